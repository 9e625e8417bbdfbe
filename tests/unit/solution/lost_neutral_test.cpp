// Metalwork beyond a lost combined neutral and earth: load and electrodes in series on U0.
#include "loopwalk/solution/lost_neutral.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace loopwalk::solution {
namespace {

using base::Maybe;
using base::Ohm;
using base::Volt;
using base::Watt;

double volts(double va, double ohms) {
    return lost_neutral_voltage(Volt(230), Watt(va), Maybe<Ohm>(Ohm(ohms))).value();
}

/// 600 VA through 16.6667 ohm: (230 - sqrt(52900 - 40000)) / 2 = 58.211 V; then 58.211 / 16.6667 =
/// 3.4927 A, and (230 - 58.211) V * 3.4927 A = 600 VA.
TEST(LostNeutral, LoadAndElectrodesShareTheVoltage) {
    const double v = volts(600, 50.0 / 3.0);
    EXPECT_NEAR(v, 58.211, 5e-4);
    EXPECT_NEAR((230.0 - v) * v / (50.0 / 3.0), 600.0, 1e-9);
}

TEST(LostNeutral, AtMostTheSupply) {
    EXPECT_DOUBLE_EQ(volts(600, 1000), 230.0); // no voltage satisfies the load
    EXPECT_DOUBLE_EQ(lost_neutral_voltage(Volt(230), Watt(0), {}).value(), 230.0);
    EXPECT_DOUBLE_EQ(volts(0, 20), 0.0);                      // nothing drives a current
    EXPECT_DOUBLE_EQ(volts(230.0 * 230.0 / 80.0, 20), 115.0); // the most that passes: halves
}

} // namespace
} // namespace loopwalk::solution
