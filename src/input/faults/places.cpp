#include "places.hpp"

#include <algorithm>
#include <cmath>

namespace loopwalk::input {

namespace {

std::vector<Spot> spots_of(const Assets& assets) {
    std::vector<Spot> spots;
    for (std::uint32_t i = 0; i < assets.count; ++i) {
        if (const auto place = assets.place(i)) {
            spots.push_back({*place, i});
        }
    }
    std::sort(spots.begin(), spots.end());
    return spots;
}

/// Interpolated between the ranks, so that a small layer also has a tail.
double quantile(const std::vector<double>& sorted, double share) {
    const double rank = share * static_cast<double>(sorted.size() - 1);
    const auto below = static_cast<std::size_t>(rank);
    const std::size_t above = std::min(below + 1, sorted.size() - 1);
    const double part = rank - static_cast<double>(below);
    return sorted[below] + part * (sorted[above] - sorted[below]);
}

} // namespace

Places places_of(const Assets& assets) {
    Places places{spots_of(assets), {}};
    for (std::size_t i = 0; i < places.spots.size(); ++i) {
        if (i == 0 || places.spots[i].place != places.spots[i - 1].place) {
            places.first.push_back(i);
        }
    }
    places.first.push_back(places.spots.size());
    return places;
}

NearestSearch search_among(const Places& places) {
    std::vector<NearestSearch::Item> items;
    items.reserve(places.count());
    for (std::uint32_t i = 0; i < places.count(); ++i) {
        items.push_back({places.place(i), i});
    }
    return NearestSearch(std::move(items));
}

base::Box middle_box(const Places& places) {
    std::vector<double> x;
    std::vector<double> y;
    for (std::size_t i = 0; i < places.count(); ++i) {
        x.push_back(places.place(i).x);
        y.push_back(places.place(i).y);
    }
    std::sort(x.begin(), x.end());
    std::sort(y.begin(), y.end());
    return {quantile(x, 0.01), quantile(y, 0.01), quantile(x, 0.99), quantile(y, 0.99)};
}

double distance_outside(const base::Box& box, base::Point2 p) {
    const double dx = std::max({box.min_x - p.x, 0.0, p.x - box.max_x});
    const double dy = std::max({box.min_y - p.y, 0.0, p.y - box.max_y});
    return std::hypot(dx, dy);
}

std::optional<base::Point2> StoredCoordinates::exchanged(base::Point2 working_place) const {
    const auto own = stored(working_place);
    return own ? working({own->y, own->x}) : std::nullopt;
}

std::optional<base::Point2> StoredCoordinates::through(const gis::Transform& transform,
                                                       base::Point2 p) {
    std::array<base::Point2, 1> point{p};
    if (!transform.is_identity() && !transform.apply(point)) {
        return std::nullopt;
    }
    return point[0];
}

} // namespace loopwalk::input
