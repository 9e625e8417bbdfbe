#include "loopwalk/input/degrees.hpp"

#include "nearest.hpp"
#include <algorithm>
#include <cmath>

namespace loopwalk::input {

namespace {

constexpr double kMostLongitude = 180.0;
constexpr double kMostLatitude = 90.0;
/// Of a layer that lies elsewhere, no more than the first so many are looked at.
constexpr std::uint64_t kEnough = 1000;

} // namespace

bool DegreeCheck::is_within(base::Point2 p) noexcept {
    return std::abs(p.x) <= kMostLongitude && std::abs(p.y) <= kMostLatitude;
}

bool DegreeCheck::takes(base::Point2 place) {
    if (place == base::Point2{0.0, 0.0}) {
        return false;
    }
    ++m_all;
    if (!is_within(place)) {
        return false;
    }
    m_box = m_within == 0
                ? base::Box{place.x, place.y, place.x, place.y}
                : base::Box{std::min(m_box.min_x, place.x), std::min(m_box.min_y, place.y),
                            std::max(m_box.max_x, place.x), std::max(m_box.max_y, place.y)};
    ++m_within;
    return true;
}

void DegreeCheck::add_line(const base::Polyline& line) {
    if (line.size() < 2 || !takes(line.front())) {
        return;
    }
    const double length = base::length(line);
    m_lines += length > 0.0 ? 1U : 0U;
    m_short += length > 0.0 && length < kShortest ? 1U : 0U;
}

void DegreeCheck::add(const gis::Geometry& geometry) {
    const bool lies_elsewhere = m_all >= kEnough && m_within == 0;
    if (geometry.state != gis::GeometryState::usable || lies_elsewhere) {
        return;
    }
    for (const base::Polyline& line : geometry.lines) {
        add_line(line);
    }
    for (const base::Point2 point : geometry.points) {
        if (takes(point)) {
            m_points.push_back(point);
        }
    }
}

/// Median from each place to the next other one; infinite where there are too few to tell.
double DegreeCheck::typical_distance() const {
    constexpr std::size_t kFewest = 3; // two may be one column, recorded twice
    std::vector<base::Point2> places = m_points;
    std::sort(places.begin(), places.end());
    places.erase(std::unique(places.begin(), places.end()), places.end());
    if (places.size() < kFewest) {
        return std::numeric_limits<double>::infinity();
    }
    std::vector<NearestSearch::Item> items;
    for (std::uint32_t i = 0; i < places.size(); ++i) {
        items.push_back({places[i], i});
    }
    const NearestSearch search(std::move(items));
    std::vector<double> distances;
    for (std::size_t i = 0; i < search.items().size(); ++i) {
        distances.push_back(search.distance(i).value_or(0.0));
    }
    const auto middle = distances.begin() + static_cast<std::ptrdiff_t>(distances.size() / 2);
    std::nth_element(distances.begin(), middle, distances.end());
    return *middle;
}

std::optional<base::Box> DegreeCheck::degrees() const {
    constexpr double kNearlyAll = 0.9;
    if (m_all == 0 || static_cast<double>(m_within) < kNearlyAll * static_cast<double>(m_all)) {
        return std::nullopt;
    }
    const bool has_short_lines = m_lines > 0 && 2 * m_short > m_lines;
    const bool is_close = m_lines == 0 && typical_distance() < kShortest;
    return has_short_lines || is_close ? std::optional(m_box) : std::nullopt;
}

} // namespace loopwalk::input
