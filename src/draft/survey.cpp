// One pass through all features of all layers.
#include "loopwalk/base/text.hpp"
#include "loopwalk/draft/draft.hpp"
#include "loopwalk/gis/crs.hpp"

#include <algorithm>
#include <numeric>
#include <set>

namespace loopwalk::draft {

namespace {

constexpr std::uint64_t kProgressStep = 4096;

Shape shape_of(const gis::Geometry& geometry) {
    switch (geometry.state) {
    case gis::GeometryState::none:
    case gis::GeometryState::empty:
    case gis::GeometryState::no_number:
        return Shape::none;
    case gis::GeometryState::wrong_kind:
        return Shape::other;
    case gis::GeometryState::usable:
    case gis::GeometryState::not_finite:
        break;
    }
    return geometry.lines.empty() ? Shape::point : Shape::line;
}

double drawn_metres(const gis::Geometry& geometry, const gis::GroundLength& ground) {
    double metres = 0.0;
    if (geometry.state == gis::GeometryState::usable) {
        for (const base::Polyline& line : geometry.lines) {
            metres += ground.of(line).value();
        }
    }
    return metres;
}

void place(const gis::Geometry& geometry, Profiler& profiler) {
    for (const base::Point2 p : geometry.points) {
        profiler.place({p});
    }
    for (const base::Polyline& line : geometry.lines) {
        profiler.place(line);
    }
}

/// A table of coordinates becomes a layer of points.
std::optional<PlaceFields> place(gis::Layer& layer) {
    if (layer.has_geometry()) {
        return std::nullopt;
    }
    const std::optional<PlaceFields> fields = find_place_fields(layer);
    if (fields) {
        layer.place_by(fields->x, fields->y, fields->mark);
        if (fields->is_degrees) {
            layer.assign_crs(gis::Crs::from_text("EPSG:4326"));
        }
    }
    return fields;
}

LayerProfile profile_of(gis::Layer& layer, base::Progress& progress) {
    const std::optional<PlaceFields> places = place(layer);
    const std::string system = layer.crs().is_unknown() ? std::string() : layer.crs().text();
    Profiler profiler(layer.dataset_name(), layer.name(), system, layer.fields());
    if (places) {
        profiler.set_place_fields(*places);
    }
    if (layer.crs().is_geographic()) {
        profiler.set_geographic();
    }
    std::vector<std::size_t> all(layer.fields().size());
    std::iota(all.begin(), all.end(), std::size_t{0});
    const gis::GroundLength ground(layer.crs());
    const bool has_geometry = layer.has_geometry();
    progress.stage("looking at " + layer.name(), static_cast<std::uint64_t>(layer.count()));
    auto cursor = layer.read(all, has_geometry ? gis::Layer::WithGeometry::yes
                                               : gis::Layer::WithGeometry::no);
    for (std::uint64_t done = 0; cursor.next(); ++done) {
        if (done % kProgressStep == 0) {
            progress.step(done);
        }
        if (has_geometry) {
            const gis::Geometry& geometry = cursor.geometry();
            profiler.next(shape_of(geometry), drawn_metres(geometry, ground));
            if (geometry.state == gis::GeometryState::usable) {
                place(geometry, profiler);
            }
        } else {
            profiler.next(Shape::none, 0.0);
        }
        for (const std::size_t field : all) {
            if (const auto text = cursor.text(field)) {
                profiler.value(field, *text);
            }
        }
    }
    return profiler.finish();
}

} // namespace

std::vector<LayerProfile> survey(const std::vector<std::string>& datasets,
                                 base::Progress& progress) {
    std::vector<LayerProfile> profiles;
    std::set<std::string> seen;
    for (const std::string& name : datasets) {
        if (!seen.insert(name).second) {
            continue;
        }
        gis::Dataset dataset(name);
        for (const std::string& layer_name : dataset.layer_names()) {
            if (auto layer = dataset.find_layer(layer_name)) {
                profiles.push_back(profile_of(*layer, progress));
            }
        }
    }
    return profiles;
}

std::vector<std::string> files_of(const std::vector<std::string>& datasets) {
    std::set<std::string> files;
    for (const std::string& name : datasets) {
        for (const std::string& file : gis::Dataset(name).files()) {
            files.insert(file);
        }
    }
    return {files.begin(), files.end()};
}

} // namespace loopwalk::draft
