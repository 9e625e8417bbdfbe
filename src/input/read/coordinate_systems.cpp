#include "coordinate_systems.hpp"

#include "loopwalk/base/error.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace loopwalk::input {

namespace {

using base::AssetLayer;

bool is_in_metres(const gis::Crs& crs) {
    return !crs.is_geographic() && crs.metres_per_unit() == 1.0;
}

double quantile(std::vector<double>& values, double share) {
    const auto middle = values.begin() +
                        static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

/// Box of the middle 98 % of the features: one cable at the wrong end of the world must not choose
/// the system in which all the others are measured.
std::optional<base::Box> typical_box(gis::Layer& layer) {
    std::vector<double> x;
    std::vector<double> y;
    auto cursor = layer.read({}, gis::Layer::WithGeometry::yes);
    while (cursor.next()) {
        const gis::Geometry& geometry = cursor.geometry();
        if (geometry.state != gis::GeometryState::usable) {
            continue;
        }
        for (const base::Polyline& line : geometry.lines) {
            if (line.empty()) {
                continue;
            }
            x.push_back(line.front().x);
            y.push_back(line.front().y);
            break;
        }
    }
    if (x.empty()) {
        return std::nullopt;
    }
    return base::Box{quantile(x, 0.01), quantile(y, 0.01), quantile(x, 0.99), quantile(y, 0.99)};
}

gis::Crs wanted_system(const std::string& wanted) {
    gis::Crs crs = gis::Crs::from_text(wanted);
    if (!is_in_metres(crs)) {
        throw base::ConfigError("[network] crs: " + crs.text() +
                                " is not a projected system in metres; distances would mean "
                                "nothing. Name one that is, such as the national grid");
    }
    return crs;
}

/// The layer whose system the others follow: the columns where there are no cables.
AssetLayer leading_layer(const Source& source) {
    return source.layer(AssetLayer::cables) != nullptr ? AssetLayer::cables : AssetLayer::columns;
}

gis::Crs suitable_system(Source& source, const gis::Crs& cables) {
    if (cables.is_unknown() || is_in_metres(cables)) {
        return cables;
    }
    std::optional<base::Box> box = typical_box(*source.layer(leading_layer(source)));
    const gis::Layer& columns = *source.layer(AssetLayer::columns);
    if (!box && columns.crs().same_as(cables)) {
        box = source.layer(AssetLayer::columns)->extent();
    }
    return gis::working_crs(cables, box.value_or(base::Box{}));
}

} // namespace

Systems choose_systems(Source& source, const std::string& wanted,
                       std::vector<std::string>& assumptions) {
    Systems systems;
    const AssetLayer leading = leading_layer(source);
    const std::string name(base::layer_name(leading));
    systems.cables = source.layer(leading)->crs();
    if (leading != AssetLayer::cables) {
        assumptions.emplace_back("There is no layer of cables: nothing can be traced.");
    }
    systems.working =
        wanted.empty() ? suitable_system(source, systems.cables) : wanted_system(wanted);
    if (systems.cables.is_unknown()) {
        assumptions.push_back(
            wanted.empty() ? "The layer " + name +
                                 " states no coordinate system: its coordinates are taken as "
                                 "metres in a plane."
                           : "The layer " + name +
                                 " states no coordinate system: its coordinates are taken to be "
                                 "in " +
                                 systems.working.text() + ".");
        systems.cables = systems.working;
    } else if (!systems.cables.same_as(systems.working)) {
        assumptions.push_back("Distances are taken in " + systems.working.text() + "; the layer " +
                              name + " is in " + systems.cables.text() + ".");
    }
    return systems;
}

gis::Crs system_of(const Context& context, const gis::Layer& layer) {
    return layer.crs().is_unknown() ? context.systems.cables : layer.crs();
}

gis::Crs system_of(const Context& context, AssetLayer layer) {
    return system_of(context, *std::as_const(context.source).layer(layer));
}

gis::Transform transform_of(Context& context, AssetLayer layer, std::size_t part) {
    const gis::Layer& from = *context.source.parts(layer)[part];
    const gis::Crs& own = from.crs();
    const std::string name(base::layer_name(layer));
    const Systems& systems = context.systems;
    if (own.is_unknown() && layer != leading_layer(context.source) &&
        !systems.cables.is_unknown()) {
        context.result.assumptions.push_back("The layer " + name +
                                             " states no coordinate system: its coordinates are "
                                             "taken to be in " +
                                             systems.cables.text() + ".");
    }
    if (!own.is_unknown() && systems.working.is_unknown()) {
        context.result.assumptions.push_back(
            "The layer " + name + " is in " + own.text() +
            " but the layer cables states no coordinate system: the coordinates of both are "
            "taken as metres in one plane.");
    }
    return {system_of(context, from), systems.working};
}

} // namespace loopwalk::input
