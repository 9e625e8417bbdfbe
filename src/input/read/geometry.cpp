#include "geometry.hpp"

#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <cmath>

namespace loopwalk::input {

namespace {

using base::Point2;
using base::Polyline;

/// The issue of a geometry that cannot be used; none if it can.
std::optional<IssueKind> fault(gis::GeometryState state) {
    switch (state) {
    case gis::GeometryState::usable:
        return std::nullopt;
    case gis::GeometryState::none:
        return IssueKind::no_geometry;
    case gis::GeometryState::empty:
        return IssueKind::empty_geometry;
    case gis::GeometryState::not_finite:
        return IssueKind::not_finite;
    case gis::GeometryState::no_number:
        return IssueKind::no_coordinate;
    case gis::GeometryState::wrong_kind:
        break;
    }
    return IssueKind::wrong_kind;
}

/// -0.0 becomes 0.0, so that equal places also have equal bits.
Point2 plain(Point2 p) {
    return {p.x + 0.0, p.y + 0.0};
}

void drop_repeated(Polyline& line) {
    line.erase(std::unique(line.begin(), line.end()), line.end());
}

/// Whether the line reads smaller from its last vertex.
bool runs_backwards(const Polyline& line) {
    return std::lexicographical_compare(line.rbegin(), line.rend(), line.begin(), line.end());
}

enum class LineFault : std::uint8_t { none, no_length, cannot_transform };

LineFault clean(Polyline line, const LineSystems& systems, CleanLine& result) {
    std::transform(line.begin(), line.end(), line.begin(), plain);
    drop_repeated(line);
    if (line.size() < 2) {
        return LineFault::no_length;
    }
    result.line = line;
    if (!systems.transform.is_identity() && !systems.transform.apply(result.line)) {
        return LineFault::cannot_transform;
    }
    if (runs_backwards(result.line)) {
        std::reverse(result.line.begin(), result.line.end());
        std::reverse(line.begin(), line.end()); // sums must not depend on the direction either
    }
    result.drawn = systems.ground.of(line);
    drop_repeated(result.line);
    result.planar = base::Metre(base::length(result.line));
    const auto is_length = [](base::Metre m) {
        return std::isfinite(m.value()) && m.value() > 0.0;
    };
    return is_length(result.drawn) && is_length(result.planar) ? LineFault::none
                                                               : LineFault::no_length;
}

} // namespace

std::optional<Point2> read_place(RowReader& rows, const gis::Transform& transform) {
    const gis::Geometry& geometry = rows.geometry();
    std::optional<IssueKind> wrong = fault(geometry.state);
    if (!wrong && geometry.points.empty()) {
        wrong = IssueKind::wrong_kind;
    }
    if (!wrong && std::adjacent_find(geometry.points.begin(), geometry.points.end(),
                                     std::not_equal_to<>()) != geometry.points.end()) {
        wrong = IssueKind::several_points;
    }
    if (wrong == IssueKind::no_coordinate) {
        rows.add_issue(*wrong, base::trimmed(geometry.kind_name));
        return std::nullopt;
    }
    if (wrong) {
        rows.add_issue(*wrong, static_cast<double>(geometry.points.size()));
        return std::nullopt;
    }
    std::array<Point2, 1> place{plain(geometry.points.front())};
    if (place[0] == Point2{0.0, 0.0}) {
        rows.add_issue(IssueKind::at_origin);
    }
    if (!transform.is_identity() && !transform.apply(place)) {
        rows.add_issue(IssueKind::cannot_transform);
        return std::nullopt;
    }
    return place[0];
}

std::vector<CleanLine> read_lines(RowReader& rows, const LineSystems& systems) {
    const gis::Geometry& geometry = rows.geometry();
    std::optional<IssueKind> wrong = fault(geometry.state);
    if (!wrong && geometry.lines.empty()) {
        wrong = IssueKind::wrong_kind;
    }
    if (wrong) {
        rows.add_issue(*wrong);
        return {};
    }
    std::vector<CleanLine> lines;
    std::size_t without_length = 0;
    bool lost = false;
    for (const Polyline& line : geometry.lines) {
        CleanLine result;
        const LineFault line_fault = clean(line, systems, result);
        without_length += line_fault == LineFault::no_length ? 1U : 0U;
        lost = lost || line_fault == LineFault::cannot_transform;
        if (line_fault == LineFault::none) {
            lines.push_back(std::move(result));
        }
    }
    if (without_length > 0) {
        rows.add_issue(IssueKind::zero_length, static_cast<double>(without_length));
    }
    if (lost) {
        rows.add_issue(IssueKind::cannot_transform);
    }
    std::sort(lines.begin(), lines.end(),
              [](const CleanLine& a, const CleanLine& b) { return a.line < b.line; });
    return lines;
}

} // namespace loopwalk::input
