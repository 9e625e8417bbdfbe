#include "result_file.hpp"

#include "loopwalk/base/error.hpp"

#include <algorithm>
#include <array>
#include <optional>

namespace loopwalk::compare {
namespace {

using base::AssetLayer;

[[noreturn]] void refuse(const std::string& name, const std::string& what) {
    throw base::InputError(name + ": " + what +
                           "; name two results that `loopwalk check` has written");
}

/// Positions of the fields that count, in the layer.
struct Fields {
    std::optional<std::size_t> id, feed, supply, way, verdict, why, in_margin, out_margin;

    explicit Fields(const gis::Layer& layer)
        : id(layer.find_field("lw_id")), feed(layer.find_field("lw_feed")),
          supply(layer.find_field("lw_supply_id")), way(layer.find_field("lw_way")),
          verdict(layer.find_field("lw_verdict")), why(layer.find_field("lw_why")),
          in_margin(layer.find_field("lw_in_margin")),
          out_margin(layer.find_field("lw_out_margin")) {}

    [[nodiscard]] std::vector<std::size_t> all() const {
        std::vector<std::size_t> positions;
        for (const auto& field : {id, feed, supply, way, verdict, why, in_margin, out_margin}) {
            if (field.has_value()) {
                positions.push_back(*field);
            }
        }
        return positions;
    }
};

std::string text_of(gis::LayerCursor& cursor, const std::optional<std::size_t>& field) {
    return field.has_value() ? std::string(cursor.text(*field).value_or("")) : std::string();
}

std::string feed_of(gis::LayerCursor& cursor, const Fields& fields) {
    const std::string supply = text_of(cursor, fields.supply);
    if (supply.empty()) {
        return text_of(cursor, fields.feed);
    }
    const std::string way = text_of(cursor, fields.way);
    return way.empty() ? supply : supply + "/" + way;
}

std::optional<double> least_margin(gis::LayerCursor& cursor, const Fields& fields) {
    std::optional<double> least;
    for (const auto& field : {fields.in_margin, fields.out_margin}) {
        if (!field.has_value()) {
            continue;
        }
        const gis::NumberCell cell = cursor.number(*field);
        if (cell.state == gis::NumberCell::State::number) {
            least = std::min(cell.number, least.value_or(cell.number));
        }
    }
    return least;
}

std::vector<base::Polyline> lines_of(const gis::Geometry& geometry) {
    if (geometry.state != gis::GeometryState::usable) {
        return {};
    }
    std::vector<base::Polyline> lines = geometry.lines;
    for (const base::Point2 point : geometry.points) {
        lines.push_back({point});
    }
    return lines;
}

ResultLayer read_layer(gis::Layer& layer, AssetLayer kind, base::Progress& progress) {
    ResultLayer result{kind, layer.crs(), {}};
    const Fields fields(layer);
    if (!fields.id.has_value() || !fields.verdict.has_value()) {
        refuse(layer.dataset_name(), "layer " + layer.name() + " lacks " +
                                         (fields.id.has_value() ? "lw_verdict" : "lw_id"));
    }
    progress.stage("read " + layer.name(), 0);
    auto cursor = layer.read(fields.all(), gis::Layer::WithGeometry::yes);
    for (std::uint64_t n = 0; cursor.next(); progress.step(++n)) {
        Asset asset{feed_of(cursor, fields), text_of(cursor, fields.verdict),
                    text_of(cursor, fields.why), least_margin(cursor, fields),
                    lines_of(cursor.geometry())};
        const std::string id = text_of(cursor, fields.id);
        if (!result.assets.emplace(id, std::move(asset)).second) {
            refuse(layer.dataset_name(),
                   "layer " + layer.name() + " has two features with lw_id " + id);
        }
    }
    return result;
}

} // namespace

std::vector<ResultLayer> read_result(gis::Dataset& dataset, base::Progress& progress) {
    constexpr std::array kLayers{AssetLayer::columns, AssetLayer::cables, AssetLayer::supplies};
    std::vector<ResultLayer> layers;
    for (const AssetLayer kind : kLayers) {
        if (auto layer = dataset.find_layer(base::layer_name(kind)); layer.has_value()) {
            layers.push_back(read_layer(*layer, kind, progress));
        }
    }
    if (layers.empty()) {
        refuse(dataset.name(), "there is no layer of columns, cables or supplies");
    }
    return layers;
}

} // namespace loopwalk::compare
