// Three readings along one line, worked by hand: sigma 0.1 ohm each, so that a least-squares
// answer is a plain mean.
#include "loopwalk/suspects/explain.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <set>

namespace loopwalk::suspects {
namespace {

std::vector<Excess> excesses(const std::vector<double>& ohms) {
    std::vector<Excess> all;
    for (const double one : ohms) {
        all.push_back({base::Ohm(one), base::Ohm(0.1)});
    }
    return all;
}

/// Before all three, before the last two, before the last; and each of the first two alone.
const std::vector<Beyond> kLine = {{0, 1, 2}, {1, 2}, {2}, {0}, {1}};

TEST(Explain, OneBadPlaceBeforeTwoReadings) {
    const auto found = explain(excesses({0.0, 0.9, 1.1}), kLine);
    ASSERT_FALSE(found.empty());
    EXPECT_EQ(found[0].place, 1U);
    EXPECT_NEAR(found[0].extra.value(), 1.0, 1e-9); // the mean of 0.9 and 1.1
    // 0.1 / sqrt(2) is the mean's standard deviation, and two of it the margin
    EXPECT_NEAR(found[0].low.value(), 1.0 - 0.141421, 1e-5);
    EXPECT_NEAR(found[0].high.value(), 1.0 + 0.141421, 1e-5);
    EXPECT_GT(found[0].share, 0.5);
}

TEST(Explain, TwoBadPlaces) {
    const std::vector<Beyond> places = {
        {0, 1, 2, 3, 4}, {1, 2, 3, 4}, {3, 4}, {0}, {1}, {2}, {3}, {4}};
    const auto found = explain(excesses({0.0, 2.1, 1.9, 5.0, 5.0}), places);
    ASSERT_GE(found.size(), 2U);
    EXPECT_EQ((std::set{found[0].place, found[1].place}), (std::set{1U, 2U}));
    const Explanation& first = found[0].place == 1 ? found[0] : found[1];
    const Explanation& second = found[0].place == 1 ? found[1] : found[0];
    EXPECT_NEAR(first.extra.value(), 2.0, 1e-9);
    EXPECT_NEAR(second.extra.value(), 3.0, 1e-9); // what is left beyond the first
}

TEST(Explain, TwoWaysToSayItShareTheWeight) {
    // 2 ohm before the last two and 3 more before the last; or 2 in the second and 5 before the
    // last
    const auto found = explain(excesses({0.0, 2.0, 5.0}), kLine);
    ASSERT_GE(found.size(), 3U);
    EXPECT_EQ(found[0].place, 2U); // in both
    EXPECT_GT(found[0].share, 0.99);
    EXPECT_NEAR(found[1].share, found[2].share, 1e-6);
    EXPECT_EQ((std::set{found[1].place, found[2].place}), (std::set{1U, 4U}));
}

TEST(Explain, LowReadingsAreNoSuspects) {
    for (const Explanation& one : explain(excesses({-0.5, -0.6, -0.4}), kLine)) {
        EXPECT_LT(one.share, 0.05) << one.place;
    }
}

TEST(Explain, NothingIsAsLikelyAsItsPriceSays) {
    // One reading, one place, 2 sigma: nothing costs 4, the place ln 1 + 2 ln 1 = 0: exp(-2).
    const std::vector<Beyond> one = {{0}};
    const auto found = explain(excesses({0.2}), one);
    ASSERT_EQ(found.size(), 1U);
    EXPECT_NEAR(found[0].share, 1.0 / (1.0 + std::exp(-2.0)), 1e-9);
    EXPECT_TRUE(explain({}, {}).empty());
}

} // namespace
} // namespace loopwalk::suspects
