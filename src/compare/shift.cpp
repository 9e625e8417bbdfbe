#include "shift.hpp"

#include <boost/geometry.hpp>
#include <boost/geometry/index/rtree.hpp>

#include <algorithm>

namespace loopwalk::compare {
namespace {

namespace bg = boost::geometry;
namespace bgi = boost::geometry::index;

using Place = bg::model::point<double, 2, bg::cs::cartesian>;
using Segment = bg::model::segment<Place>;
constexpr std::size_t kMostInNode = 16;
using Index = bgi::rtree<Segment, bgi::quadratic<kMostInNode>>;

Place place_of(base::Point2 p) {
    return {p.x, p.y};
}

base::Point2 point_of(const Place& p) {
    return {bg::get<0>(p), bg::get<1>(p)};
}

/// All segments of the lines; a line of one vertex is a segment of no length.
Index index_of(const Lines& lines) {
    std::vector<Segment> segments;
    for (const base::Polyline& line : lines) {
        for (std::size_t i = 0; i < std::max<std::size_t>(line.size() - 1, 1); ++i) {
            const std::size_t next = std::min(i + 1, line.size() - 1);
            segments.emplace_back(place_of(line[i]), place_of(line[next]));
        }
    }
    return Index(segments); // packed, not grown one by one
}

double distance_to_nearest(const Index& index, base::Point2 vertex) {
    const auto nearest = index.qbegin(bgi::nearest(place_of(vertex), 1));
    return base::nearest_on_segment(vertex, point_of(nearest->first), point_of(nearest->second))
        .distance;
}

double farthest_vertex(const Lines& from, const Lines& to, const Heed& heed) {
    const Index index = index_of(to);
    double farthest = 0.0;
    for (const base::Polyline& line : from) {
        for (const base::Point2 vertex : line) {
            heed();
            farthest = std::max(farthest, distance_to_nearest(index, vertex));
        }
    }
    return farthest;
}

} // namespace

double shift(const Lines& a, const Lines& b, const Heed& heed) {
    if (a == b) { // nearly every asset
        return 0.0;
    }
    return std::max(farthest_vertex(a, b, heed), farthest_vertex(b, a, heed));
}

} // namespace loopwalk::compare
