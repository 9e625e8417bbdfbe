#include "loopwalk/draft/profile.hpp"

#include <gtest/gtest.h>

namespace loopwalk::draft {
namespace {

TEST(LengthRatios, FindTheMiddleAndItsNeighbours) {
    LengthRatios ratios;
    for (int i = 0; i < 9; ++i)
        ratios.add(3.4 * (20.0 + i), 20.0 + i);
    ratios.add(500.0, 10.0);
    EXPECT_NEAR(ratios.median(), 3.4, 0.03 * 3.4); // a bin is 2.3 % wide
    EXPECT_EQ(ratios.count(), 10U);
    EXPECT_DOUBLE_EQ(ratios.share_near_median(), 0.9);
    EXPECT_EQ(ratios.share_equal(), 0.0);
}

TEST(LengthRatios, PassOverWhatTellsNothing) {
    LengthRatios ratios;
    ratios.add(0.0, 20.0);
    ratios.add(-1.0, 20.0);
    ratios.add(3.0, 1.0); // a short tail: loops into the bases outweigh it
    EXPECT_EQ(ratios.count(), 0U);
    ratios.add(20.01, 20.0);
    EXPECT_EQ(ratios.share_equal(), 1.0);
}

TEST(Profiler, TellsShapeAndFill) {
    Profiler profiler("d", "l", "", {{"A", gis::FieldKind::text}, {"B", gis::FieldKind::text}});
    for (int i = 0; i < 4; ++i) {
        profiler.next(i == 0 ? Shape::none : Shape::line, i == 0 ? 0.0 : 10.0);
        profiler.value(0, i == 1 ? " " : "11");
    }
    const LayerProfile profile = profiler.finish();
    EXPECT_EQ(profile.shape(), Shape::line);
    EXPECT_EQ(profile.features, 4U);
    EXPECT_DOUBLE_EQ(profile.fill(profile.fields[0]), 0.75);
    EXPECT_DOUBLE_EQ(profile.fill(profile.fields[1]), 0.0);
    ASSERT_TRUE(profile.fields[0].ratios.has_value());
    EXPECT_EQ(profile.fields[0].ratios->count(), 2U);
    EXPECT_FALSE(profile.fields[1].ratios.has_value());
}

} // namespace
} // namespace loopwalk::draft
