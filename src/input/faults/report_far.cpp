// Assets that lie apart from all others, alone or in a small group, and what may be wrong with
// them.
#include "loopwalk/base/text.hpp"

#include "groups.hpp"
#include "places.hpp"
#include "read/coordinate_systems.hpp"
#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace loopwalk::input {

namespace {

using base::AssetLayer;
using base::Point2;
using base::Rule;

/// Median distance of a place to the nearest other, from an even sample of a large layer.
double median_distance(const NearestSearch& search) {
    constexpr std::size_t kSample = 20000;
    const std::size_t step = std::max<std::size_t>(1, search.items().size() / kSample);
    std::vector<double> distances;
    for (std::size_t i = 0; i < search.items().size(); i += step) {
        if (const auto distance = search.distance(i)) {
            distances.push_back(*distance);
        }
    }
    if (distances.empty()) {
        return 0.0;
    }
    const auto middle = distances.begin() + static_cast<std::ptrdiff_t>(distances.size() / 2);
    std::nth_element(distances.begin(), middle, distances.end());
    return *middle;
}

/// Which assets lie at 0,0 of the layer's own coordinates.
std::vector<bool> at_origin(Context& context, const Assets& assets) {
    std::vector<bool> flags(assets.count, false);
    const LayerRecord& record = context.record(assets.layer);
    for (const Issue& issue : record.issues) {
        if (issue.kind == IssueKind::at_origin) {
            flags[record.order.positions[issue.feature]] = true;
        }
    }
    return flags;
}

/// Why a place is far away, as far as its coordinates tell.
class Cause {
  public:
    Cause(Context& context, const Assets& assets, const Places& places)
        : m_stored(system_of(context, assets.layer), context.systems.working),
          m_box(middle_box(places)), m_null_island(null_island(context)) {}

    /// Whether it would lie among the others with x and y the other way round.
    [[nodiscard]] bool is_exchanged(Point2 place) const {
        const auto other = m_stored.exchanged(place);
        return other && distance_outside(m_box, *other) == 0.0;
    }
    /// At 0 degrees east, 0 degrees north: no coordinates were recorded before a conversion.
    [[nodiscard]] bool is_null_island(Point2 place) const {
        constexpr double kNear = 300.0; // metres: more than datums differ there
        return m_null_island && base::distance(*m_null_island, place) < kNear;
    }
    [[nodiscard]] std::string exchanged_text(Point2 place) const {
        const auto own = m_stored.stored(place);
        return own ? base::short_text(own->y, kDigits) + ", " + base::short_text(own->x, kDigits)
                   : std::string();
    }

  private:
    static constexpr int kDigits = 8;
    static std::optional<Point2> null_island(Context& context) {
        if (context.systems.working.is_unknown()) {
            return std::nullopt;
        }
        const StoredCoordinates degrees(gis::Crs::from_text("EPSG:4326"), context.systems.working);
        return degrees.working({0.0, 0.0});
    }
    StoredCoordinates m_stored;
    base::Box m_box;
    std::optional<Point2> m_null_island;
};

struct FarPlace {
    const Assets& assets;
    const Spot& spot;
    double apart = 0.0; ///< metres to the next asset that is not of its group
    double limit = 0.0;
    bool at_origin = false;
};

std::string message_of(const FarPlace& far, const Cause& cause) {
    std::string where = " lies " + base::short_text(far.apart) +
                        " m from the next asset, more than " + base::short_text(far.limit) + " m";
    if (cause.is_null_island(far.spot.place)) {
        where = " lies at longitude 0, latitude 0";
    }
    if (far.at_origin) {
        where = " lies at 0,0 of its coordinate system";
    }
    return asset_name(far.assets, far.spot.position) + where + "; its place is used.";
}

std::string cure_of(const FarPlace& far, const Cause& cause) {
    if (far.at_origin || cause.is_null_island(far.spot.place)) {
        return "Record its coordinates: there are none";
    }
    if (cause.is_exchanged(far.spot.place)) {
        return "Exchange easting and northing: at " + cause.exchanged_text(far.spot.place) +
               " it would lie among the others";
    }
    return "Check the coordinates";
}

/// Distance from which an asset is cut off: fifty steps to the next of its layer, and a kilometre
/// at least, since lamps at a country crossroads are no mistake.
double limit_of(const NearestSearch& search) {
    constexpr double kFactor = 50.0;
    constexpr double kLeast = 1000.0; // metres
    return std::max(kLeast, kFactor * median_distance(search));
}

/// Small groups of places that nothing else lies near, of whatever layer.
class Apart {
  public:
    Apart(Context& context, const Assets& assets, const Places& places, double limit)
        : m_places(places) {
        std::vector<Point2> points;
        for (std::size_t i = 0; i < places.count(); ++i) {
            points.push_back(places.place(i));
        }
        m_groups = groups_of(points, limit);
        for (const std::uint32_t group : m_groups) {
            m_sizes.resize(std::max<std::size_t>(m_sizes.size(), group + 1));
            ++m_sizes[group];
        }
        m_largest = m_sizes.empty() ? 0 : *std::max_element(m_sizes.begin(), m_sizes.end());
        m_distances.assign(places.count(), 0.0);
        if (m_sizes.size() > 1) {
            measure(context, assets);
        }
    }

    /// Of a place: metres from its group to the next thing outside; 0 if the group is no small one.
    [[nodiscard]] double distance(std::size_t place) const { return m_distances[place]; }
    /// Whether the group is so small that each of its assets may be a slip by itself.
    [[nodiscard]] bool is_single(std::size_t place) const {
        return m_sizes[m_groups[place]] <= kFew;
    }

  private:
    static constexpr std::size_t kFew = 3;

    /// A twentieth of the layer at most, or a few beside ten times as many, or one alone: more is
    /// another part of the town.
    [[nodiscard]] bool is_small(std::uint32_t group) const {
        constexpr std::size_t kShare = 20;
        constexpr std::size_t kTimes = 10;
        const std::size_t size = m_sizes[group];
        return size * kShare <= m_places.count() || (size == 1 && m_largest > 1) ||
               (size <= kFew && m_largest >= kTimes * size);
    }
    void measure(Context& context, const Assets& assets) {
        constexpr auto kRest = ~std::uint32_t{0};
        std::vector<NearestSearch::Item> items;
        for (std::size_t i = 0; i < m_places.count(); ++i) {
            items.push_back({m_places.place(i), is_small(m_groups[i]) ? m_groups[i] : kRest});
        }
        for (const AssetLayer layer :
             {AssetLayer::columns, AssetLayer::cables, AssetLayer::supplies, AssetLayer::joints,
              AssetLayer::mains}) {
            if (layer != assets.layer) {
                add_ends(assets_of(context, layer), kRest, items);
            }
        }
        const NearestSearch search(std::move(items));
        std::vector<double> by_group(m_sizes.size(), std::numeric_limits<double>::infinity());
        for (std::size_t i = 0; i < search.items().size(); ++i) {
            const std::uint32_t owner = search.items()[i].owner;
            if (owner != kRest) {
                by_group[owner] =
                    std::min(by_group[owner], search.distance(i).value_or(by_group[owner]));
            }
        }
        for (std::size_t i = 0; i < m_places.count(); ++i) {
            m_distances[i] = is_small(m_groups[i]) ? by_group[m_groups[i]] : 0.0;
        }
    }
    static void add_ends(const Assets& others, std::uint32_t owner,
                         std::vector<NearestSearch::Item>& items) {
        std::vector<Point2> ends;
        for (std::size_t i = 0; i < others.count && others.ends; ++i) {
            ends.clear();
            others.ends(i, ends);
            for (const Point2 end : ends) {
                items.push_back({end, owner});
            }
        }
    }

    const Places& m_places;
    std::vector<std::uint32_t> m_groups;
    std::vector<std::size_t> m_sizes; ///< by group
    std::size_t m_largest = 0;
    std::vector<double> m_distances;
};

} // namespace

void report_far(Context& context, const Assets& assets, const Places& places,
                const NearestSearch& search) {
    const double limit = limit_of(search);
    const Apart apart(context, assets, places, limit);
    const std::vector<bool> origin = at_origin(context, assets);
    std::optional<Cause> cause; // costs something, and mostly nothing is far
    for (std::size_t place = 0; place < places.count(); ++place) {
        for (std::size_t i = places.first[place]; i < places.first[place + 1]; ++i) {
            const Spot& spot = places.spots[i];
            const FarPlace far{assets, spot, apart.distance(place), limit, origin[spot.position]};
            const bool is_apart = std::isfinite(far.apart) && far.apart > limit;
            if (!is_apart && !far.at_origin) {
                continue;
            }
            if (!cause) {
                cause.emplace(context, assets, places);
            }
            // A village may lie apart; its columns are not all in the wrong place.
            if (!far.at_origin && !apart.is_single(place) && !cause->is_exchanged(spot.place) &&
                !cause->is_null_island(spot.place)) {
                continue;
            }
            base::Finding finding = finding_at(assets, spot.position, Rule::outlier_place,
                                               message_of(far, *cause), cure_of(far, *cause));
            finding.value = far.apart;
            finding.limit = limit;
            finding.unit = "m";
            context.findings.add(std::move(finding));
        }
    }
}

} // namespace loopwalk::input
