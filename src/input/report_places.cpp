// Points that lie on, beside or far from the others of their layer.
#include "loopwalk/base/text.hpp"

#include "nearest.hpp"
#include "report.hpp"
#include <algorithm>
#include <cmath>

namespace loopwalk::input {

namespace {

using base::Point2;
using base::Rule;

struct Spot {
    Point2 place;
    std::uint32_t position = 0;
    friend auto operator<=>(const Spot&, const Spot&) noexcept = default;
};

std::vector<Spot> spots_of(const Assets& assets) {
    std::vector<Spot> spots;
    for (std::uint32_t i = 0; i < assets.count; ++i)
        if (const auto place = assets.place(i))
            spots.push_back({*place, i});
    std::sort(spots.begin(), spots.end());
    return spots;
}

/// Distinct places of a layer, in order of (x, y), and where their assets begin among the spots.
struct Places {
    std::vector<Spot> spots;
    std::vector<std::size_t> first; ///< one more than there are places
    [[nodiscard]] std::size_t count() const noexcept { return first.size() - 1; }
    [[nodiscard]] Point2 place(std::size_t i) const { return spots[first[i]].place; }
};

Places places_of(const Assets& assets) {
    Places places{spots_of(assets), {}};
    for (std::size_t i = 0; i < places.spots.size(); ++i)
        if (i == 0 || places.spots[i].place != places.spots[i - 1].place)
            places.first.push_back(i);
    places.first.push_back(places.spots.size());
    return places;
}

NearestSearch search_among(const Places& places) {
    std::vector<NearestSearch::Item> items;
    items.reserve(places.count());
    for (std::uint32_t i = 0; i < places.count(); ++i)
        items.push_back({places.place(i), i});
    return NearestSearch(std::move(items));
}

void report_same_places(Context& context, const Assets& assets, const Places& places) {
    for (std::size_t i = 0; i < places.count(); ++i) {
        const std::size_t first = places.first[i];
        const std::size_t count = places.first[i + 1] - first;
        for (std::size_t k = 0; count > 1 && k < count; ++k)
            report_same_place(context, assets, places.spots[first + k].position,
                              assets.id(places.spots[first + (k == 0 ? 1 : 0)].position),
                              static_cast<std::int64_t>(count));
    }
}

void report_beside(Context& context, const Assets& assets, const Places& places,
                   const NearestSearch& search) {
    const double limit = context.job.rules.column_beside_column.value();
    std::vector<std::pair<std::uint32_t, double>> beside; // canonical position, metres
    for (std::size_t i = 0; i < search.items().size(); ++i) {
        const auto distance = search.distance(i, limit);
        const std::uint32_t place = search.items()[i].owner;
        for (std::size_t k = places.first[place]; distance && k < places.first[place + 1]; ++k)
            beside.emplace_back(places.spots[k].position, *distance);
    }
    std::sort(beside.begin(), beside.end());
    for (const auto& [position, distance] : beside) {
        base::Finding finding =
            finding_at(assets, position, Rule::column_beside_column,
                       asset_name(assets, position) + " stands " + base::short_text(distance, 3) +
                           " m from another column, less than " + base::number_text(limit) + " m.",
                       "Check whether one column was recorded twice, or an old one not taken out");
        finding.value = distance;
        finding.limit = limit;
        finding.unit = "m";
        context.findings.add(std::move(finding));
    }
}

/// Median distance of a place to the nearest other, from an even sample of a large layer.
double median_distance(const NearestSearch& search) {
    constexpr std::size_t kSample = 20000;
    const std::size_t step = std::max<std::size_t>(1, search.items().size() / kSample);
    std::vector<double> distances;
    for (std::size_t i = 0; i < search.items().size(); i += step)
        if (const auto distance = search.distance(i))
            distances.push_back(*distance);
    if (distances.empty())
        return 0.0;
    const auto middle = distances.begin() + static_cast<std::ptrdiff_t>(distances.size() / 2);
    std::nth_element(distances.begin(), middle, distances.end());
    return *middle;
}

/// Interpolated between the ranks, so that a small layer also has a tail.
double quantile(const std::vector<double>& sorted, double share) {
    const double rank = share * static_cast<double>(sorted.size() - 1);
    const auto below = static_cast<std::size_t>(rank);
    const std::size_t above = std::min(below + 1, sorted.size() - 1);
    const double part = rank - static_cast<double>(below);
    return sorted[below] + part * (sorted[above] - sorted[below]);
}

base::Box middle_box(const Places& places) {
    std::vector<double> x, y;
    for (std::size_t i = 0; i < places.count(); ++i) {
        x.push_back(places.place(i).x);
        y.push_back(places.place(i).y);
    }
    std::sort(x.begin(), x.end());
    std::sort(y.begin(), y.end());
    return {quantile(x, 0.01), quantile(y, 0.01), quantile(x, 0.99), quantile(y, 0.99)};
}

double distance_outside(const base::Box& box, Point2 p) {
    const double dx = std::max({box.min_x - p.x, 0.0, p.x - box.max_x});
    const double dy = std::max({box.min_y - p.y, 0.0, p.y - box.max_y});
    return std::hypot(dx, dy);
}

/// Which assets lie at 0,0 of the layer's own coordinates.
std::vector<bool> at_origin(Context& context, const Assets& assets) {
    std::vector<bool> flags(assets.count, false);
    const LayerRecord& record = context.record(assets.layer);
    for (const Issue& issue : record.issues)
        if (issue.kind == IssueKind::at_origin)
            flags[record.order.positions[issue.feature]] = true;
    return flags;
}

void report_far(Context& context, const Assets& assets, const Places& places,
                const NearestSearch& search) {
    constexpr double kFactor = 10.0; // rules.md
    const double limit = kFactor * median_distance(search);
    const base::Box box = middle_box(places);
    const std::vector<bool> origin = at_origin(context, assets);
    for (const Spot& spot : places.spots) {
        const double outside = distance_outside(box, spot.place);
        const bool is_far = limit > 0.0 && outside > limit;
        if (!is_far && !origin[spot.position])
            continue;
        base::Finding finding = finding_at(
            assets, spot.position, Rule::outlier_place,
            asset_name(assets, spot.position) +
                (origin[spot.position]
                     ? std::string(" lies at 0,0 of its coordinate system; its place is used.")
                     : " lies " + base::short_text(outside) +
                           " m outside the box of nearly all others, more than " +
                           base::short_text(limit) + " m; its place is used."),
            "Check the coordinates");
        finding.value = outside;
        finding.limit = limit;
        finding.unit = "m";
        context.findings.add(std::move(finding));
    }
}

} // namespace

void report_places(Context& context, const Assets& assets) {
    const Places places = places_of(assets);
    if (places.count() == 0)
        return;
    const NearestSearch search = search_among(places);
    report_same_places(context, assets, places);
    if (assets.layer == base::AssetLayer::columns)
        report_beside(context, assets, places, search);
    if (assets.layer != base::AssetLayer::joints)
        report_far(context, assets, places, search);
}

} // namespace loopwalk::input
