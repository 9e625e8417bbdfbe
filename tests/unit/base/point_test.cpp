#include "loopwalk/base/error.hpp"
#include "loopwalk/base/point.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace loopwalk::base {
namespace {

// Two sides of 3-4-5 triangles: (0,0) -> (30,40) is 50 m, (30,40) -> (30,60) is 20 m.
const Polyline kBent{{0, 0}, {30, 40}, {30, 60}};

// The same far from the origin, where national grids put it.
Polyline far_off(Polyline line) {
    for (Point2& p : line) {
        p = {p.x + 530000.0, p.y + 180000.0};
    }
    return line;
}

TEST(Point, DistanceAndLength) {
    EXPECT_DOUBLE_EQ(distance({1, 2}, {4, 6}), 5.0);
    EXPECT_DOUBLE_EQ(length(kBent), 70.0);
    EXPECT_EQ(length(Polyline{}), 0.0);
    EXPECT_EQ(length(Polyline{{7, 7}}), 0.0);
    EXPECT_NEAR(length(far_off(kBent)), 70.0, 1e-9);
}

TEST(Point, NearestOnSegment) {
    // From (5,3) to the x axis between 0 and 10: foot (5,0), 3 m away, half-way.
    const NearestOnSegment beside = nearest_on_segment({5, 3}, {0, 0}, {10, 0});
    EXPECT_DOUBLE_EQ(beside.distance, 3.0);
    EXPECT_DOUBLE_EQ(beside.fraction, 0.5);
    EXPECT_EQ(beside.point, (Point2{5, 0}));
    // Past the end the end itself is nearest: (13,4) to (10,0) is 5 m.
    const NearestOnSegment past = nearest_on_segment({13, 4}, {0, 0}, {10, 0});
    EXPECT_DOUBLE_EQ(past.distance, 5.0);
    EXPECT_EQ(past.fraction, 1.0);
    EXPECT_EQ(past.point, (Point2{10, 0}));
}

TEST(Point, NearestOnSegmentOfNoLength) {
    const NearestOnSegment nearest = nearest_on_segment({3, 4}, {0, 0}, {0, 0});
    EXPECT_DOUBLE_EQ(nearest.distance, 5.0);
    EXPECT_EQ(nearest.fraction, 0.0);
}

TEST(Point, DirectionChangesNoDigit) {
    const Point2 a{530012.34, 180000.07}, b{530099.99, 180051.13}, p{530050.5, 180033.3};
    const NearestOnSegment forward = nearest_on_segment(p, a, b);
    const NearestOnSegment backward = nearest_on_segment(p, b, a);
    EXPECT_EQ(forward.distance, backward.distance);
    EXPECT_EQ(forward.point, backward.point);
    EXPECT_NEAR(forward.fraction + backward.fraction, 1.0, 1e-12);
}

TEST(Point, NearestOnLine) {
    // (33,50) is 3 m right of the upright segment, 10 m up it: measure 50 + 10.
    const NearestOnLine nearest = nearest_on_line({33, 50}, kBent);
    EXPECT_DOUBLE_EQ(nearest.distance, 3.0);
    EXPECT_DOUBLE_EQ(nearest.measure, 60.0);
    EXPECT_EQ(nearest.segment, 1U);
    EXPECT_EQ(nearest.point, (Point2{30, 50}));
}

TEST(Point, NearestOnLineTakesTheFirstOfEquals) {
    const Polyline there_and_back{{0, 0}, {10, 0}, {0, 0}};
    EXPECT_DOUBLE_EQ(nearest_on_line({4, 1}, there_and_back).measure, 4.0);
    EXPECT_EQ(nearest_on_line({0, 2}, Polyline{{0, 0}}).distance, 2.0);
}

TEST(Point, PointAt) {
    EXPECT_EQ(point_at(kBent, 25.0), (Point2{15, 20}));
    EXPECT_EQ(point_at(kBent, 60.0), (Point2{30, 50}));
    EXPECT_EQ(point_at(kBent, -1.0), (Point2{0, 0}));
    EXPECT_EQ(point_at(kBent, 1e9), (Point2{30, 60}));
    EXPECT_EQ(point_at(Polyline{{7, 8}}, 3.0), (Point2{7, 8}));
}

TEST(Point, Stretch) {
    EXPECT_EQ(stretch(kBent, 25.0, 60.0), (Polyline{{15, 20}, {30, 40}, {30, 50}}));
    EXPECT_EQ(stretch(kBent, 50.0, 60.0), (Polyline{{30, 40}, {30, 50}})); // no doubled vertex
    EXPECT_EQ(stretch(kBent, 0.0, 70.0), kBent);
    EXPECT_EQ(stretch(kBent, 10.0, 10.0), (Polyline{{6, 8}, {6, 8}}));
    EXPECT_THROW((void)stretch(kBent, 2.0, 1.0), InternalError);
}

TEST(Point, StretchesJoinExactlyAndAddUp) {
    const Polyline line = far_off({{0, 0}, {7.1, 3.3}, {19.7, 3.3}, {23.4, 11.9}});
    const double whole = length(line);
    for (int i = 1; i < 20; ++i) {
        const double cut = whole * i / 20.0;
        const Polyline head = stretch(line, 0.0, cut);
        const Polyline tail = stretch(line, cut, whole);
        EXPECT_EQ(head.front(), line.front());
        EXPECT_EQ(head.back(), tail.front());
        EXPECT_EQ(tail.back(), line.back());
        EXPECT_NEAR(length(head), cut, 1e-6);
        EXPECT_NEAR(length(head) + length(tail), whole, 1e-6);
    }
}

TEST(Point, StretchOfALineWithRepeatedVertices) {
    const Polyline doubled{{0, 0}, {0, 0}, {10, 0}, {10, 0}, {20, 0}};
    EXPECT_EQ(stretch(doubled, 5.0, 15.0), (Polyline{{5, 0}, {10, 0}, {15, 0}}));
}

TEST(Point, BoxOf) {
    const Box box = box_of(Polyline{{3, -1}, {-2, 5}, {0, 0}});
    EXPECT_EQ(box.min_x, -2.0);
    EXPECT_EQ(box.min_y, -1.0);
    EXPECT_EQ(box.max_x, 3.0);
    EXPECT_EQ(box.max_y, 5.0);
}

} // namespace
} // namespace loopwalk::base
