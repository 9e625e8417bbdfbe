// Devices that may be one of several. Time-current points from reprinted loop limits of BS 7671
// table 41.4 and 41.2 (BS 88-2: 6 A 18 A at 5 s, 28 A at 0.4 s; 16 A 55 and 90 A).
#include "loopwalk/protection/device.hpp"

#include <gtest/gtest.h>

namespace loopwalk::protection {
namespace {

using base::Ampere;
using base::Second;
using catalogue::CurvePoint;

using Curve = std::vector<CurvePoint>;

const Curve kSix = {{Ampere(18), Second(5)}, {Ampere(28), Second(0.4)}};
const Curve kSixteen = {{Ampere(55), Second(5)}, {Ampere(90), Second(0.4)}};

DeviceChoice choice(const Curve* late, const Curve* early) {
    DeviceChoice c;
    c.edges = {late, early, late == early};
    return c;
}

TEST(LimitCurrents, OneKnownDevice) {
    const DeviceChoices device{{choice(&kSix, &kSix)}};
    const LimitCurrents found = limit_currents(device, Second(5));
    EXPECT_EQ(found.certain, base::Maybe(Ampere(18)));
    EXPECT_EQ(found.possible, base::Maybe(Ampere(18)));
}

TEST(LimitCurrents, SeveralTakeTheSlowestForSureAndTheQuickestForPerhaps) {
    const DeviceChoices device{{choice(&kSix, &kSix), choice(&kSixteen, &kSixteen)}};
    const LimitCurrents found = limit_currents(device, Second(0.4));
    EXPECT_EQ(found.certain, base::Maybe(Ampere(90)));
    EXPECT_EQ(found.possible, base::Maybe(Ampere(28)));
}

TEST(LimitCurrents, BetweenNeighbours) {
    const DeviceChoices device{{choice(&kSixteen, &kSix)}};
    const LimitCurrents found = limit_currents(device, Second(5));
    EXPECT_EQ(found.certain, base::Maybe(Ampere(55)));
    EXPECT_EQ(found.possible, base::Maybe(Ampere(18)));
}

TEST(LimitCurrents, OneChoiceWithoutAnEdgeTakesTheBoundAway) {
    const DeviceChoices device{{choice(&kSix, &kSix), choice(nullptr, &kSix)}};
    EXPECT_FALSE(limit_currents(device, Second(5)).certain.has_value());
    EXPECT_TRUE(limit_currents(device, Second(5)).possible.has_value());
    const DeviceChoices open_below{{choice(&kSix, nullptr)}};
    EXPECT_FALSE(limit_currents(open_below, Second(5)).possible.has_value());
}

TEST(LimitCurrents, NothingIsKnownOfADeviceWithoutChoices) {
    EXPECT_FALSE(limit_currents({}, Second(5)).certain.has_value());
    EXPECT_FALSE(limit_currents({}, Second(5)).possible.has_value());
}

TEST(LimitCurrents, ALimitBelowTheShortestTimeIsNotPromised) {
    const DeviceChoices device{{choice(&kSix, &kSix)}};
    EXPECT_FALSE(limit_currents(device, Second(0.1)).certain.has_value());
}

TEST(LongestTime, IsThatOfTheSlowestChoice) {
    const DeviceChoices device{{choice(&kSix, &kSix), choice(&kSixteen, &kSixteen)}};
    // 16 A at 70 A, log-log: 5 * (0.4 / 5) ^ (ln(70 / 55) / ln(90 / 55)) = 1.4515 s.
    const auto time = longest_time(device, Ampere(70));
    ASSERT_EQ(time.state, catalogue::TimeState::clears);
    EXPECT_NEAR(time.time.value(), 1.4515, 5e-5);
}

TEST(LongestTime, OneChoiceThatDoesNotClearIsEnough) {
    const DeviceChoices device{{choice(&kSix, &kSix), choice(&kSixteen, &kSixteen)}};
    EXPECT_EQ(longest_time(device, Ampere(40)).state, catalogue::TimeState::not_within_table);
}

TEST(BreakingRange, IsKnownOnlyIfEveryChoiceIs) {
    DeviceChoice strong = choice(&kSix, &kSix);
    strong.breaking_ka = base::Number(50);
    DeviceChoice weak = choice(&kSix, &kSix);
    weak.breaking_ka = base::Number(1);
    const BreakingRange both = breaking_range({{strong, weak}});
    EXPECT_TRUE(both.is_known);
    EXPECT_EQ(both.lowest, 1.0);
    EXPECT_EQ(both.highest, 50.0);
    EXPECT_FALSE(breaking_range({{strong, choice(&kSix, &kSix)}}).is_known);
    EXPECT_FALSE(breaking_range({}).is_known);
}

TEST(CanBreak, EqualIsEnoughWhateverTheRounding) {
    EXPECT_TRUE(can_break(16.0, 253.0 / (253.0 / 16000.0) / 1000.0));
    EXPECT_TRUE(can_break(16.0, 16.000000000000004));
    EXPECT_FALSE(can_break(16.0, 16.001));
}

} // namespace
} // namespace loopwalk::protection
