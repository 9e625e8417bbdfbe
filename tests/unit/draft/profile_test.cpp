#include "loopwalk/draft/profile.hpp"

#include <gtest/gtest.h>

#include <cstdint>

namespace loopwalk::draft {
namespace {

TEST(LengthRatios, FindTheMiddleAndItsNeighbours) {
    LengthRatios ratios;
    for (int i = 0; i < 9; ++i) {
        ratios.add(3.4 * (20.0 + i), 20.0 + i);
    }
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

TEST(Profiler, KeepsALayerOfLinesOneWhereMostHaveNoGeometry) {
    Profiler profiler("d", "cables", "", {{"cable_id", gis::FieldKind::text}});
    for (int i = 0; i < 20; ++i) {
        profiler.next(i < 8 ? Shape::line : Shape::none, i < 8 ? 30.0 : 0.0);
    }
    EXPECT_EQ(profiler.finish().shape(), Shape::line);
}

enum class Kind : std::uint8_t { points, lines };

/// Lamps 30 m apart, or the cables between them; `step` in units of the coordinates.
LayerProfile street(Kind kind, const std::string& system, base::Point2 start, double step) {
    Profiler profiler("d", "l", system, {{"id", gis::FieldKind::text}});
    for (int i = 0; i < 12; ++i) {
        const base::Point2 from{start.x + i * step, start.y};
        profiler.next(kind == Kind::lines ? Shape::line : Shape::point, 0.0);
        profiler.place(kind == Kind::lines
                           ? std::vector<base::Point2>{from, {from.x + step, from.y}}
                           : std::vector<base::Point2>{from});
    }
    return profiler.finish();
}

TEST(Profiler, TellsDegreesThatNoLayerOwnsUpTo) {
    // 30 m along the parallel of 52 degrees north: 30 / (111.3 km * cos 52) = 0.00044 degrees.
    constexpr double kDegrees = 0.00044;
    for (const Kind kind : {Kind::points, Kind::lines}) {
        EXPECT_TRUE(street(kind, "", {-1.5, 52.0}, kDegrees).looks_like_degrees());
        EXPECT_TRUE(street(kind, "EPSG:27700", {-1.5, 52.0}, kDegrees).looks_like_degrees());
        EXPECT_FALSE(street(kind, "", {0.0, 0.0}, 10.0).looks_like_degrees()); // a local grid
        // 5 km in degrees, 5 cm in metres: a run takes it for metres, so draft may not say else.
        EXPECT_FALSE(street(kind, "", {0.0, 0.0}, 0.05).looks_like_degrees());
        EXPECT_FALSE(street(kind, "EPSG:27700", {451000.0, 207000.0}, 30.0).looks_like_degrees());
    }
    Profiler declared("d", "l", "EPSG:4326", {{"id", gis::FieldKind::text}});
    declared.set_geographic();
    declared.next(Shape::line, 30.0);
    declared.place({{-1.5, 52.0}, {-1.4995, 52.0}});
    EXPECT_FALSE(declared.finish().looks_like_degrees());
}

} // namespace
} // namespace loopwalk::draft
