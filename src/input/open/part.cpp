#include "part.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace loopwalk::input {

namespace {

using base::AssetLayer;
using base::Box;
using base::Point2;

/// Around an area: the longest service and a way across the street and round the corner.
constexpr double kMarginMetres = 200.0;

struct Region {
    Box box;
    gis::Crs crs;
};

Box nowhere() {
    constexpr double kFar = std::numeric_limits<double>::infinity();
    return {kFar, kFar, -kFar, -kFar};
}

bool is_nowhere(const Box& box) {
    return !(box.min_x <= box.max_x);
}

void include(Box& box, Point2 p) {
    box = {std::min(box.min_x, p.x), std::min(box.min_y, p.y), std::max(box.max_x, p.x),
           std::max(box.max_y, p.y)};
}

/// The box of another system that holds the whole of this one: its edges bend on the way.
Box box_in(const Region& region, const gis::Crs& crs) {
    constexpr int kSteps = 20;
    const Box& from = region.box;
    std::vector<Point2> edge;
    for (int i = 0; i <= kSteps; ++i) {
        const double share = static_cast<double>(i) / kSteps;
        const double x = from.min_x + share * (from.max_x - from.min_x);
        const double y = from.min_y + share * (from.max_y - from.min_y);
        edge.insert(edge.end(),
                    {{x, from.min_y}, {x, from.max_y}, {from.min_x, y}, {from.max_x, y}});
    }
    if (!gis::Transform(region.crs, crs).apply(edge)) {
        throw base::ConfigError("[data] bbox: the box cannot be brought from " + region.crs.text() +
                                " to " + crs.text());
    }
    Box box = nowhere();
    for (const Point2 p : edge) {
        include(box, p);
    }
    return box;
}

/// Of the cables, which layers without a system of their own share.
const gis::Crs& common_crs(const Source& source) {
    const gis::Layer* cables = source.layer(AssetLayer::cables);
    return (cables != nullptr ? cables : source.layer(AssetLayer::columns))->crs();
}

gis::Crs crs_of_box(const Source& source, const std::string& named) {
    if (named.empty()) {
        return common_crs(source);
    }
    try {
        return gis::Crs::from_text(named);
    } catch (const base::ConfigError& error) {
        throw base::ConfigError(std::string("[data] bbox_crs: ") + error.what());
    }
}

/// The filter of the job and that of the area.
std::string area_filter(const gis::Layer& columns, const config::LayerSource& source,
                        const std::string& area) {
    std::string name = "area";
    for (const config::FieldNames& names : source.fields) {
        if (names.field == "area") {
            name = names.names.size() == 1 ? names.names.front() : std::string();
        }
    }
    const auto field = columns.find_field(name);
    if (!field) {
        throw base::ConfigError("[data] area: the columns have no single field that holds it; "
                                "name it: [columns] fields = { area = \"...\" }");
    }
    const std::string filter =
        base::quoted_sql(columns.fields()[*field].name, '"') + " = " + base::quoted_sql(area, '\'');
    return source.where.empty() ? filter : "(" + source.where + ") AND " + filter;
}

Box box_of(gis::Layer& columns) {
    Box box = nowhere();
    gis::LayerCursor cursor = columns.read({}, gis::Layer::WithGeometry::yes);
    while (cursor.next()) {
        if (const gis::Geometry& geometry = cursor.geometry();
            geometry.state == gis::GeometryState::usable) {
            for (const Point2 p : geometry.points) {
                include(box, p);
            }
        }
    }
    return box;
}

Region around(Source& source, const config::DataSettings& settings) {
    const auto named = settings.sources(AssetLayer::columns);
    Region region{nowhere(), {}};
    std::size_t n = 0;
    for (gis::Layer* columns : source.parts(AssetLayer::columns)) {
        const config::LayerSource& of_part = *named[n++];
        columns->filter(area_filter(*columns, of_part, settings.part.area));
        const Region own{box_of(*columns), columns->crs()};
        columns->filter(of_part.where);
        if (is_nowhere(own.box)) {
            continue;
        }
        if (is_nowhere(region.box)) {
            region.crs = gis::working_crs(own.crs, own.box);
        }
        const Box box = box_in(own, region.crs);
        include(region.box, {box.min_x, box.min_y});
        include(region.box, {box.max_x, box.max_y});
    }
    if (is_nowhere(region.box)) {
        throw base::ConfigError("[data] area: no column with a place is of the area '" +
                                settings.part.area + "'");
    }
    region.box = {region.box.min_x - kMarginMetres, region.box.min_y - kMarginMetres,
                  region.box.max_x + kMarginMetres, region.box.max_y + kMarginMetres};
    return region;
}

std::string words(const Region& region) {
    constexpr int kDigits = 9;
    std::vector<std::string> numbers;
    for (const double number :
         {region.box.min_x, region.box.min_y, region.box.max_x, region.box.max_y}) {
        numbers.push_back(base::short_text(number, kDigits));
    }
    return "the box " + base::joined(numbers, ", ") + " of " + region.crs.text();
}

} // namespace

std::string restrict_to_part(Source& source, const config::DataSettings& settings) {
    const config::PartSettings& part = settings.part;
    const bool is_area = !part.area.empty();
    const Region region = is_area ? around(source, settings)
                                  : Region{{part.bbox[0], part.bbox[1], part.bbox[2], part.bbox[3]},
                                           crs_of_box(source, part.bbox_crs)};
    for (const AssetLayer which : {AssetLayer::columns, AssetLayer::cables, AssetLayer::supplies,
                                   AssetLayer::joints, AssetLayer::mains}) {
        for (gis::Layer* layer : source.parts(which)) {
            const gis::Crs& own = layer->crs();
            layer->filter(box_in(region, own.is_unknown() ? common_crs(source) : own));
        }
    }
    return is_area ? "around the area " + part.area + ", " + words(region) : words(region);
}

} // namespace loopwalk::input
