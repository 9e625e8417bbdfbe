// Plane geometry in metres on plain doubles: just what snapping and cutting need.
// Differences are taken before products, so national-grid coordinates keep their digits.
#pragma once

#include <compare>
#include <cstddef>
#include <span>
#include <vector>

namespace loopwalk::base {

/// A place in the plane of the working coordinate system, metres.
struct Point2 {
    double x = 0.0; ///< easting, metres
    double y = 0.0; ///< northing, metres
    friend constexpr auto operator<=>(const Point2&, const Point2&) noexcept = default;
};

using Polyline = std::vector<Point2>; ///< vertices in order, metres

/// A rectangle along the axes, borders included.
struct Box {
    double min_x = 0.0, min_y = 0.0, max_x = 0.0, max_y = 0.0; ///< metres
};

/// Where a line comes closest to a point.
struct NearestOnLine {
    double distance = 0.0;   ///< metres
    double measure = 0.0;    ///< metres along the line from its first vertex
    std::size_t segment = 0; ///< index of the segment's first vertex
    Point2 point;            ///< on the line
};

/// Planar, metres.
[[nodiscard]] double distance(Point2 a, Point2 b) noexcept;

/// Planar length of a line, metres; 0 for fewer than two vertices.
[[nodiscard]] double length(std::span<const Point2> line) noexcept;

/// Nearest point of a segment to `p`; `fraction` in [0, 1] along a -> b.
struct NearestOnSegment {
    double distance = 0.0; ///< metres
    double fraction = 0.0; ///< of the way from a to b
    Point2 point;          ///< on the segment
};
/// A segment of two equal points is that point.
[[nodiscard]] NearestOnSegment nearest_on_segment(Point2 p, Point2 a, Point2 b) noexcept;

/// Nearest point of a line with at least one vertex; the first of equals along the line.
[[nodiscard]] NearestOnLine nearest_on_line(Point2 p, std::span<const Point2> line) noexcept;

/// Point at `measure` metres along the line, clamped to its ends.
[[nodiscard]] Point2 point_at(std::span<const Point2> line, double measure) noexcept;

/// The stretch of a line between two measures (from <= to), with exact end points.
[[nodiscard]] Polyline stretch(std::span<const Point2> line, double from, double to);

/// Smallest box around a line with at least one vertex.
[[nodiscard]] Box box_of(std::span<const Point2> line) noexcept;

} // namespace loopwalk::base
