#include "loopwalk/catalogue/curve.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace loopwalk::catalogue {
namespace {

CurvePoint at(double current, double time) {
    return {Ampere(current), Second(time)};
}

FuseType fuse(std::vector<FuseRating> ratings) {
    return {"F", FuseKind::fuse, false, false, std::move(ratings)};
}

FuseRating rated(double rating, std::vector<CurvePoint> slow, std::vector<CurvePoint> fast = {}) {
    FuseRating r;
    r.rating = Ampere(rating);
    r.slow = std::move(slow);
    r.fast = std::move(fast);
    return r;
}

// A straight line on log-log paper: ten times the current, a hundredth of the time.
const std::vector<CurvePoint> kStraight{at(10, 5), at(100, 0.05)};
// The shape of a type D breaker: a level, then a step down.
const std::vector<CurvePoint> kStep{at(100, 5), at(200, 5), at(200, 0.1)};

TEST(SlowTime, InterpolatesOnLogLogPaper) {
    // Half-way on both logarithmic axes: sqrt(10*100) = 31.62 A and sqrt(5*0.05) = 0.5 s.
    const OperatingTime time = slow_time(kStraight, Ampere(31.6227766));
    EXPECT_EQ(time.state, TimeState::clears);
    EXPECT_NEAR(time.time.value(), 0.5, 1e-8);
    EXPECT_FALSE(time.is_bound_only);
}

TEST(SlowTime, IsExactAtThePoints) {
    EXPECT_EQ(slow_time(kStraight, Ampere(10)).time, Second(5));
    const OperatingTime last = slow_time(kStraight, Ampere(100));
    EXPECT_EQ(last.time, Second(0.05));
    EXPECT_FALSE(last.is_bound_only);
}

TEST(SlowTime, NeverExtrapolates) {
    EXPECT_EQ(slow_time(kStraight, Ampere(9.999)).state, TimeState::not_within_table);
    EXPECT_EQ(slow_time({}, Ampere(10)).state, TimeState::not_within_table);
    const OperatingTime above = slow_time(kStraight, Ampere(1e6));
    EXPECT_EQ(above.state, TimeState::clears);
    EXPECT_EQ(above.time, Second(0.05));
    EXPECT_TRUE(above.is_bound_only);
}

TEST(SlowTime, OnePointIsAStep) {
    const std::vector<CurvePoint> breaker{at(50, 0.1)};
    EXPECT_EQ(slow_time(breaker, Ampere(49.9)).state, TimeState::not_within_table);
    EXPECT_EQ(slow_time(breaker, Ampere(50)).time, Second(0.1));
    EXPECT_EQ(slow_time(breaker, Ampere(51)).time, Second(0.1));
}

TEST(SlowTime, VerticalStepTakesTheShorterTime) {
    EXPECT_EQ(slow_time(kStep, Ampere(100)).time, Second(5));
    EXPECT_NEAR(slow_time(kStep, Ampere(199.9)).time.value(), 5.0, 1e-12);
    EXPECT_EQ(slow_time(kStep, Ampere(200)).time, Second(0.1));
    EXPECT_TRUE(slow_time(kStep, Ampere(201)).is_bound_only);
}

TEST(SlowCurrent, IsTheInverse) {
    EXPECT_EQ(*slow_current(kStraight, Second(5)), Ampere(10));
    EXPECT_NEAR((*slow_current(kStraight, Second(0.5))).value(), 31.6227766, 1e-6);
    EXPECT_EQ(*slow_current(kStraight, Second(0.05)), Ampere(100));
}

TEST(SlowCurrent, LimitsOutsideTheTable) {
    EXPECT_FALSE(slow_current(kStraight, Second(0.049)).has_value());
    EXPECT_FALSE(slow_current({}, Second(5)).has_value());
    EXPECT_EQ(*slow_current(kStraight, Second(3600)), Ampere(10));
}

TEST(SlowCurrent, Step) {
    EXPECT_EQ(*slow_current(kStep, Second(5)), Ampere(100));
    EXPECT_EQ(*slow_current(kStep, Second(0.4)), Ampere(200));
    EXPECT_EQ(*slow_current(kStep, Second(0.1)), Ampere(200));
}

TEST(SlowEdges, OwnCurveIsBothEdges) {
    const FuseType type = fuse({rated(6, {at(20, 5)}, {at(10, 5)}), rated(10, {at(40, 5)})});
    const SlowEdges edges = slow_edges(type, Ampere(6));
    EXPECT_TRUE(edges.is_own);
    EXPECT_EQ(edges.late, &type.ratings[0].slow);
    EXPECT_EQ(edges.early, &type.ratings[0].slow);
}

TEST(SlowEdges, NeighboursBracketARatingWithoutCurve) {
    const FuseType type =
        fuse({rated(2, {at(6, 5)}), rated(5, {at(15, 5)}, {at(9, 5)}), rated(6, {}), rated(10, {}),
              rated(16, {at(56, 5)}), rated(20, {at(68, 5)})});
    for (const double rating : {6.0, 8.0, 10.0}) { // listed without a curve, or not listed
        const SlowEdges edges = slow_edges(type, Ampere(rating));
        EXPECT_FALSE(edges.is_own);
        EXPECT_EQ(edges.late, &type.ratings[4].slow);
        EXPECT_EQ(edges.early, &type.ratings[1].fast); // its fast edge, where it has one
    }
    EXPECT_EQ(slow_edges(type, Ampere(3)).early, &type.ratings[0].slow);
    EXPECT_EQ(slow_edges(type, Ampere(1)).early, nullptr);
    EXPECT_EQ(slow_edges(type, Ampere(25)).late, nullptr);
}

} // namespace
} // namespace loopwalk::catalogue
