// Impedances against hand figures from published conductor data (IEC 60228; armour: Guide to the
// Wiring Regulations, Wiley 2008, table 4.4).
#include "loopwalk/impedance/impedance.hpp"
#include "loopwalk/impedance/source.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace loopwalk::impedance {
namespace {

using base::OhmPerKm;
using catalogue::CableType;
using catalogue::Conductor;
using catalogue::EarthPath;

constexpr double kArmourFactor = 1.1;

Conductor copper(double r20) {
    return {OhmPerKm(r20), OhmPerKm(0.0), 0.00393, base::Celsius(90.0), {}, {}, {}};
}

Conductor armour(double r20) {
    return {OhmPerKm(r20), OhmPerKm(0.3), 0.0045, base::Celsius(80.0), {}, {}, {}};
}

/// 2-core 6 mm2 XLPE, steel wire armour as the earth path.
CableType two_core_6() {
    CableType type;
    type.line = copper(3.08);
    type.neutral = copper(3.08);
    type.armour = armour(7.0);
    type.earth_path = EarthPath::armour;
    type.ampacity = base::Ampere(53.0);
    return type;
}

/// 3-core 6 mm2 XLPE with armour and third core in parallel.
CableType three_core_6() {
    CableType type = two_core_6();
    type.armour = armour(6.7);
    type.cpc = copper(3.08);
    type.earth_path = EarthPath::armour_and_cpc;
    return type;
}

TEST(PerKm, HotConductorsAndArmour) {
    const CablePerKm cable = per_km(two_core_6(), kArmourFactor);
    EXPECT_NEAR(cable.z.hot_high.line.real(), 3.08 * (1.0 + 0.00393 * 70.0), 1e-12);
    EXPECT_NEAR(cable.z.hot_high.earth.real(), 7.0 * (1.0 + 0.0045 * 60.0) * 1.1, 1e-12);
    EXPECT_NEAR(cable.z.hot_high.earth.imag(), 0.3, 1e-12);
    EXPECT_NEAR(cable.z.cold_low.earth.real(), 7.0, 1e-12) << "no alternating-current factor cold";
    EXPECT_EQ(cable.z.hot_low.earth, cable.z.hot_high.earth);
    EXPECT_EQ(cable.has_earth, Presence::yes);
}

TEST(PerKm, ArmourAndCoreHaveTwoBounds) {
    const CablePerKm cable = per_km(three_core_6(), kArmourFactor);
    // 3.927308 alone; in parallel with 9.3599 + j0.3, by hand:
    // 3.927308 * (9.3599 + j0.3) / (13.287208 + j0.3) = 2.76710 + j0.02620.
    EXPECT_NEAR(cable.z.hot_high.earth.real(), 3.927308, 1e-6);
    EXPECT_NEAR(cable.z.hot_low.earth.real(), 2.76710, 1e-5);
    EXPECT_NEAR(cable.z.hot_low.earth.imag(), 0.02620, 1e-5);
    const CablePerKm alone = per_km(three_core_6(), kArmourFactor, ArmourBond::not_bonded);
    EXPECT_NEAR(alone.z.hot_low.earth.real(), 3.927308, 1e-6);
}

TEST(PerKm, ArmourKnownAsARangeHasTwoBounds) {
    CableType type = two_core_6();
    type.armour->r20_low = OhmPerKm(2.0);
    type.armour->csa = base::SquareMillimetre(22.0);
    type.armour->k = base::Number(46.0);
    const CablePerKm cable = per_km(type, kArmourFactor);
    EXPECT_NEAR(cable.z.hot_high.earth.real(), 7.0 * 1.27 * 1.1, 1e-12);
    EXPECT_NEAR(cable.z.hot_low.earth.real(), 2.0 * 1.27 * 1.1, 1e-12);
    EXPECT_NEAR(cable.z.cold_high.earth.real(), 7.0, 1e-12);
    EXPECT_NEAR(cable.z.cold_low.earth.real(), 2.0, 1e-12);
    EXPECT_EQ(cable.z.cold_low.line, cable.z.cold_high.line);
    // Of the area, too, only the least is known: what it survives is not bounded above.
    EXPECT_DOUBLE_EQ(cable.withstand.earth.low.value(), 46.0 * 46.0 * 22.0 * 22.0);
    EXPECT_TRUE(std::isinf(cable.withstand.earth.high.value()));
    // Beside a core: 3.08 and 2 in parallel, both without reactance.
    type = three_core_6();
    type.armour->r20_low = OhmPerKm(2.0);
    type.armour->x = OhmPerKm(0.0);
    const CablePerKm both = per_km(type, kArmourFactor);
    EXPECT_NEAR(both.z.cold_low.earth.real(), 3.08 * 2.0 / 5.08, 1e-12);
    EXPECT_NEAR(both.z.cold_high.earth.real(), 3.08, 1e-12);
}

TEST(PerKm, NoEarthPathIsSaid) {
    CableType type = two_core_6();
    type.earth_path = EarthPath::none;
    EXPECT_EQ(per_km(type, kArmourFactor).has_earth, Presence::no);
}

TEST(Envelope, TakesEachConductorsExtremesByItself) {
    CableType thick = two_core_6();
    thick.line = copper(1.15);
    thick.armour = armour(8.0);
    thick.ampacity = base::Ampere(91.0);
    const CablePerKm box =
        envelope(std::vector{per_km(two_core_6(), kArmourFactor), per_km(thick, kArmourFactor)});
    EXPECT_NEAR(box.z.cold_low.line.real(), 1.15, 1e-12);
    EXPECT_NEAR(box.z.cold_high.line.real(), 3.08, 1e-12);
    EXPECT_NEAR(box.z.cold_low.earth.real(), 7.0, 1e-12);
    EXPECT_NEAR(box.z.cold_high.earth.real(), 8.0, 1e-12);
    EXPECT_EQ(box.ampacity, base::Maybe(base::Ampere(53.0)));
}

TEST(Envelope, DoesNotPromiseAnEarthThatOneTypeLacks) {
    CableType bare = two_core_6();
    bare.earth_path = EarthPath::none;
    bare.ampacity = {};
    const CablePerKm box =
        envelope(std::vector{per_km(two_core_6(), kArmourFactor), per_km(bare, kArmourFactor)});
    EXPECT_EQ(box.has_earth, Presence::unknown);
    EXPECT_FALSE(box.ampacity.has_value());
}

TEST(LoopImpedance, MagnitudeAddsArithmetically) {
    Source source;
    // |0.6 + j0.8| = 1; with 0.35 by magnitude 1.35, the trade's way.
    EXPECT_NEAR(loop_impedance(source, base::Ohm(0.35), {0.6, 0.8}).value(), 1.35, 1e-12);
}

TEST(LoopImpedance, ComplexAddsAsComplex) {
    // Published chain (engx.theiet.org thread 24378): 0.061 + j0.026 at the board, 5 m of final
    // circuit 0.030 + j0.008: 0.097 ohm at the socket.
    Source source;
    source.complex_ze = Complex(0.061, 0.026);
    EXPECT_NEAR(loop_impedance(source, base::Ohm(0.0663), {0.030, 0.008}).value(), 0.097, 5e-4);
}

TEST(SmallestLoop, TakesTheWorstAngleOfTheSource) {
    // A resistive loop: a reactive source leaves the smaller sum, |0.3 + j0.4| = 0.5.
    EXPECT_NEAR(smallest_loop(base::Ohm(0.4), {0.3, 0.0}).value(), 0.5, 1e-12);
    // A reactive loop: a resistive source does.
    EXPECT_NEAR(smallest_loop(base::Ohm(0.4), {0.0, 0.3}).value(), 0.5, 1e-12);
}

TEST(SmallestLoop, NoAngleBetweenIsSmaller) {
    const Complex loop(0.31, 0.17);
    const double least = smallest_loop(base::Ohm(0.25), loop).value();
    for (int degrees = 0; degrees <= 90; ++degrees) {
        EXPECT_GE(std::abs(loop + std::polar(0.25, degrees * 3.14159265358979 / 180.0)),
                  least - 1e-12);
    }
}

} // namespace
} // namespace loopwalk::impedance
