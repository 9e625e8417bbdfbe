// Points that lie on, beside or far from the others of their layer.
#include "loopwalk/base/text.hpp"

#include "places.hpp"
#include <algorithm>

namespace loopwalk::input {

namespace {

using base::Rule;

void report_same_places(Context& context, const Assets& assets, const Places& places) {
    for (std::size_t i = 0; i < places.count(); ++i) {
        const std::size_t first = places.first[i];
        const std::size_t count = places.first[i + 1] - first;
        for (std::size_t k = 0; count > 1 && k < count; ++k) {
            report_same_place(context, assets, places.spots[first + k].position,
                              assets.id(places.spots[first + (k == 0 ? 1 : 0)].position),
                              static_cast<std::int64_t>(count));
        }
    }
}

void report_beside(Context& context, const Assets& assets, const Places& places,
                   const NearestSearch& search) {
    const double limit = context.job.rules.column_beside_column.value();
    std::vector<std::pair<std::uint32_t, double>> beside; // canonical position, metres
    for (std::size_t i = 0; i < search.items().size(); ++i) {
        const auto distance = search.distance(i, limit);
        const std::uint32_t place = search.items()[i].owner;
        for (std::size_t k = places.first[place]; distance && k < places.first[place + 1]; ++k) {
            beside.emplace_back(places.spots[k].position, *distance);
        }
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

} // namespace

void report_places(Context& context, const Assets& assets) {
    const Places places = places_of(assets);
    if (places.count() == 0) {
        return;
    }
    const NearestSearch search = search_among(places);
    report_same_places(context, assets, places);
    if (assets.layer == base::AssetLayer::columns) {
        report_beside(context, assets, places, search);
    }
    if (assets.layer != base::AssetLayer::joints) {
        report_far(context, assets, places, search);
    }
}

} // namespace loopwalk::input
