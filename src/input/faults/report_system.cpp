// Layers that lie elsewhere as a whole. A wrong coordinate system is one mistake, not one for each
// asset: it gets one finding, which says which other reading of the numbers would bring them home.
#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include "places.hpp"
#include "read/coordinate_systems.hpp"
#include <algorithm>
#include <cmath>

namespace loopwalk::input {

namespace {

using base::AssetLayer;
using base::Point2;

constexpr std::size_t kSample = 1000;
constexpr double kMostLongitude = 180.0;
constexpr double kMostLatitude = 90.0;

/// The layer by which another is judged.
std::optional<AssetLayer> reference_of(AssetLayer layer) {
    switch (layer) {
    case AssetLayer::columns:
    case AssetLayer::supplies:
    case AssetLayer::joints:
    case AssetLayer::mains:
        return AssetLayer::cables;
    case AssetLayer::cables:
    case AssetLayer::ways:
    case AssetLayer::terminations:
    case AssetLayer::loads:
    case AssetLayer::readings:
        break;
    }
    return std::nullopt;
}

/// The box of nearly all, grown by its own size and more: a layer may well reach further than the
/// other, but not miss it altogether; wrong systems are a hundred kilometres off and more.
base::Box grown(const base::Box& box) {
    constexpr double kMargin = 20000.0;
    const double by = std::hypot(box.max_x - box.min_x, box.max_y - box.min_y) + kMargin;
    return {box.min_x - by, box.min_y - by, box.max_x + by, box.max_y + by};
}

/// Places outside the box, evenly over the layer.
std::vector<Point2> sample_outside(const Places& places, const base::Box& box) {
    std::vector<Point2> outside;
    const std::size_t step = std::max<std::size_t>(1, places.count() / kSample);
    for (std::size_t i = 0; i < places.count(); i += step) {
        if (distance_outside(box, places.place(i)) > 0.0) {
            outside.push_back(places.place(i));
        }
    }
    return outside;
}

/// Other ways to read a layer's numbers.
class Readings {
  public:
    Readings(Context& context, AssetLayer layer, std::vector<Point2> places, base::Box home)
        : m_context(context), m_layer(layer), m_places(std::move(places)), m_home(home),
          m_own(system_of(context, layer)), m_stored(m_own, context.systems.working) {}

    /// A cure that would bring nearly all of them home; empty if none is known.
    [[nodiscard]] std::string cure() const {
        if (bring_home([this](Point2 p) { return m_stored.exchanged(p); })) {
            return "Easting and northing are exchanged in the whole layer: export it anew";
        }
        for (const gis::Crs& other : {m_context.systems.cables, gis::Crs::from_text("EPSG:4326")}) {
            if (!other.same_as(m_own) && is_read_as(other)) {
                return "Its numbers are those of " + other.text() + ": say so in the job file, [" +
                       std::string(base::layer_name(m_layer)) + "] crs = \"" + other.text() + "\"";
            }
        }
        return "Check the coordinate system of both layers; the job file can name another: [" +
               std::string(base::layer_name(m_layer)) + "] crs = \"...\"";
    }

  private:
    template <class Move>
    [[nodiscard]] bool bring_home(Move move) const {
        constexpr double kNearlyAll = 0.9;
        std::size_t home = 0;
        for (const Point2 p : m_places) {
            const auto moved = move(p);
            home += moved && distance_outside(m_home, *moved) == 0.0 ? 1U : 0U;
        }
        return static_cast<double>(home) >= kNearlyAll * static_cast<double>(m_places.size());
    }
    [[nodiscard]] bool is_read_as(const gis::Crs& other) const {
        const StoredCoordinates as_other(other, m_context.systems.working);
        return bring_home([&](Point2 p) -> std::optional<Point2> {
            const auto stored = m_stored.stored(p);
            const bool fits =
                stored && (!other.is_geographic() || (std::abs(stored->x) <= kMostLongitude &&
                                                      std::abs(stored->y) <= kMostLatitude));
            return fits ? as_other.working(*stored) : std::nullopt;
        });
    }

    Context& m_context;
    AssetLayer m_layer;
    std::vector<Point2> m_places;
    base::Box m_home;
    gis::Crs m_own;
    StoredCoordinates m_stored;
};

/// The first asset outside the box. There is one.
const Spot& first_outside(const Places& places, const base::Box& box) {
    const Spot* first = nullptr;
    for (const Spot& spot : places.spots) {
        if (distance_outside(box, spot.place) > 0.0 &&
            (first == nullptr || spot.position < first->position)) {
            first = &spot;
        }
    }
    LW_ASSERT(first != nullptr);
    return *first;
}

} // namespace

void report_system(Context& context, const Assets& assets) {
    const auto reference = reference_of(assets.layer);
    if (!reference || context.systems.working.is_unknown()) {
        return;
    }
    const Places home = places_of(assets_of(context, *reference));
    const Places places = places_of(assets);
    if (home.count() == 0 || places.count() < 2) {
        return;
    }
    const base::Box box = grown(middle_box(home));
    std::vector<Point2> outside = sample_outside(places, box);
    const std::size_t step = std::max<std::size_t>(1, places.count() / kSample);
    const std::size_t looked_at = (places.count() + step - 1) / step;
    if (outside.size() * 2 <= looked_at) {
        return;
    }
    const Spot& first = first_outside(places, box);
    const Readings readings(context, assets.layer, std::move(outside), box);
    base::Finding finding =
        finding_at(assets, first.position, base::Rule::outlier_place,
                   "Most of the layer " + std::string(base::layer_name(assets.layer)) +
                       " lies far from the layer " + std::string(base::layer_name(*reference)) +
                       ", in coordinates of " + system_of(context, assets.layer).text() + ".",
                   readings.cure());
    finding.value = distance_outside(middle_box(home), first.place);
    finding.unit = "m";
    finding.count = static_cast<std::int64_t>(places.spots.size());
    context.findings.add(std::move(finding));
}

} // namespace loopwalk::input
