// Single assets that lie far from the others of their layer, and what may be wrong with them.
#include "loopwalk/base/text.hpp"

#include "coordinate_systems.hpp"
#include "places.hpp"
#include <algorithm>
#include <utility>

namespace loopwalk::input {

namespace {

using base::Point2;
using base::Rule;

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

/// Which assets lie at 0,0 of the layer's own coordinates.
std::vector<bool> at_origin(Context& context, const Assets& assets) {
    std::vector<bool> flags(assets.count, false);
    const LayerRecord& record = context.record(assets.layer);
    for (const Issue& issue : record.issues)
        if (issue.kind == IssueKind::at_origin)
            flags[record.order.positions[issue.feature]] = true;
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
        if (context.systems.working.is_unknown())
            return std::nullopt;
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
    double outside = 0.0;
    double limit = 0.0;
    bool at_origin = false;
};

std::string message_of(const FarPlace& far, const Cause& cause) {
    std::string where = " lies " + base::short_text(far.outside) +
                        " m outside the box of nearly all others, more than " +
                        base::short_text(far.limit) + " m";
    if (cause.is_null_island(far.spot.place))
        where = " lies at longitude 0, latitude 0";
    if (far.at_origin)
        where = " lies at 0,0 of its coordinate system";
    return asset_name(far.assets, far.spot.position) + where + "; its place is used.";
}

std::string cure_of(const FarPlace& far, const Cause& cause) {
    if (far.at_origin || cause.is_null_island(far.spot.place))
        return "Record its coordinates: there are none";
    if (cause.is_exchanged(far.spot.place))
        return "Exchange easting and northing: at " + cause.exchanged_text(far.spot.place) +
               " it would lie among the others";
    return "Check the coordinates";
}

} // namespace

void report_far(Context& context, const Assets& assets, const Places& places,
                const NearestSearch& search) {
    constexpr double kFactor = 10.0; // of the median nearest distance
    const double limit = kFactor * median_distance(search);
    const base::Box box = middle_box(places);
    const std::vector<bool> origin = at_origin(context, assets);
    std::optional<Cause> cause; // costs something, and mostly nothing is far
    for (const Spot& spot : places.spots) {
        const FarPlace far{assets, spot, distance_outside(box, spot.place), limit,
                           origin[spot.position]};
        const bool is_far = limit > 0.0 && far.outside > limit;
        if (!is_far && !far.at_origin)
            continue;
        if (!cause)
            cause.emplace(context, assets, places);
        base::Finding finding = finding_at(assets, spot.position, Rule::outlier_place,
                                           message_of(far, *cause), cure_of(far, *cause));
        finding.value = far.outside;
        finding.limit = limit;
        finding.unit = "m";
        context.findings.add(std::move(finding));
    }
}

} // namespace loopwalk::input
