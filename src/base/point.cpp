#include "loopwalk/base/point.hpp"

#include "loopwalk/base/error.hpp"

#include <algorithm>
#include <cmath>

namespace loopwalk::base {

namespace {

Point2 between(Point2 a, Point2 b, double fraction) noexcept {
    if (fraction >= 1.0) { // a + (b - a) need not give b exactly
        return b;
    }
    return {a.x + (b.x - a.x) * fraction, a.y + (b.y - a.y) * fraction};
}

/// A place on a line: `fraction` of the segment that starts at vertex `segment`.
struct Place {
    std::size_t segment = 0;
    double fraction = 0.0;
};

Place place_at(std::span<const Point2> line, double measure) noexcept {
    if (!(measure > 0.0) || line.size() < 2) {
        return {};
    }
    double before = 0.0;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const double step = distance(line[i], line[i + 1]);
        if (measure < before + step) {
            return {i, (measure - before) / step};
        }
        before += step;
    }
    return {line.size() - 2, 1.0};
}

Point2 point_of(std::span<const Point2> line, Place place) noexcept {
    if (line.empty()) {
        return {};
    }
    if (line.size() == 1) {
        return line[0];
    }
    return between(line[place.segment], line[place.segment + 1], place.fraction);
}

} // namespace

double distance(Point2 a, Point2 b) noexcept {
    return std::hypot(a.x - b.x, a.y - b.y);
}

double length(std::span<const Point2> line) noexcept {
    double sum = 0.0;
    for (std::size_t i = 1; i < line.size(); ++i) {
        sum += distance(line[i - 1], line[i]);
    }
    return sum;
}

NearestOnSegment nearest_on_segment(Point2 p, Point2 a, Point2 b) noexcept {
    // Computed from the smaller end, so that the direction of a line changes no digit.
    const bool swapped = b < a;
    if (swapped) {
        std::swap(a, b);
    }
    const double dx = b.x - a.x;
    const double dy = b.y - a.y;
    const double square = dx * dx + dy * dy;
    double fraction = 0.0;
    if (square > 0.0) {
        fraction = std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0.0, 1.0);
    }
    const Point2 foot = between(a, b, fraction);
    return {distance(p, foot), swapped ? 1.0 - fraction : fraction, foot};
}

NearestOnLine nearest_on_line(Point2 p, std::span<const Point2> line) noexcept {
    if (line.empty()) {
        return {};
    }
    NearestOnLine best{distance(p, line[0]), 0.0, 0, line[0]};
    double before = 0.0;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const double step = distance(line[i], line[i + 1]);
        const NearestOnSegment here = nearest_on_segment(p, line[i], line[i + 1]);
        if (here.distance < best.distance) {
            best = {here.distance, before + here.fraction * step, i, here.point};
        }
        before += step;
    }
    return best;
}

Point2 point_at(std::span<const Point2> line, double measure) noexcept {
    return point_of(line, place_at(line, measure));
}

Polyline stretch(std::span<const Point2> line, double from, double to) {
    LW_ASSERT(from <= to);
    const Place start = place_at(line, from);
    const Place stop = place_at(line, to);
    const Point2 last = point_of(line, stop);
    Polyline result{point_of(line, start)};
    for (std::size_t i = start.segment + 1; i <= stop.segment && i < line.size(); ++i) {
        if (line[i] != result.back() && line[i] != last) {
            result.push_back(line[i]);
        }
    }
    result.push_back(last);
    return result;
}

Box box_of(std::span<const Point2> line) noexcept {
    if (line.empty()) {
        return {};
    }
    Box box{line[0].x, line[0].y, line[0].x, line[0].y};
    for (const Point2 p : line) {
        box.min_x = std::min(box.min_x, p.x);
        box.min_y = std::min(box.min_y, p.y);
        box.max_x = std::max(box.max_x, p.x);
        box.max_y = std::max(box.max_y, p.y);
    }
    return box;
}

} // namespace loopwalk::base
