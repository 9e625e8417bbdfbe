#include "loopwalk/base/error.hpp"

#include "coordinate_systems.hpp"
#include "field_tables.hpp"
#include "geometry.hpp"
#include "read_assets.hpp"
#include <algorithm>
#include <limits>

namespace loopwalk::input {

namespace {

using base::AssetLayer;
using model::Cable;
using model::Layers;
using model::Part;

std::uint32_t index_of(std::size_t size) {
    if (size > std::numeric_limits<std::uint32_t>::max()) {
        throw base::InputError("the layer cables has more than 4,294,967,295 vertices; "
                               "split the dataset by area");
    }
    return static_cast<std::uint32_t>(size);
}

void add_lines(const std::vector<CleanLine>& lines, Cable& cable, Layers& layers) {
    cable.first_part = index_of(layers.parts.size());
    cable.part_count = index_of(lines.size());
    for (const CleanLine& line : lines) {
        layers.parts.push_back({base::CableId(layers.cables.size()),
                                index_of(layers.vertices.size()), index_of(line.line.size()),
                                line.drawn, line.planar});
        layers.vertices.insert(layers.vertices.end(), line.line.begin(), line.line.end());
    }
}

/// Cables, parts and vertices of one source in the order of the file.
void read_rows(Context& context, std::size_t part) {
    Layers& layers = context.result.layers;
    const gis::Transform transform = transform_of(context, AssetLayer::cables, part);
    const gis::GroundLength ground(
        system_of(context, *context.source.parts(AssetLayer::cables)[part]));
    RowReader rows(context, AssetLayer::cables, part, gis::Layer::WithGeometry::yes);
    layers.cables.reserve(layers.cables.size() + rows.room());
    layers.parts.reserve(layers.parts.size() + rows.room());
    while (rows.next()) {
        Cable cable;
        read_fields(rows, cable);
        cable.fid = rows.fid();
        add_lines(read_lines(rows, {transform, ground}), cable, layers);
        rows.count_known({});
        layers.cables.push_back(cable);
    }
}

int compare_lines(const Layers& layers, const Part& a, const Part& b) {
    const auto left = layers.line(a);
    const auto right = layers.line(b);
    if (std::lexicographical_compare(left.begin(), left.end(), right.begin(), right.end())) {
        return -1;
    }
    return std::equal(left.begin(), left.end(), right.begin(), right.end()) ? 0 : 1;
}

int compare_cables(const Layers& layers, const Cable& a, const Cable& b) {
    const auto left = layers.parts_of(a);
    const auto right = layers.parts_of(b);
    for (std::size_t i = 0; i < std::min(left.size(), right.size()); ++i) {
        if (const int order = compare_lines(layers, left[i], right[i]); order != 0) {
            return order;
        }
    }
    if (left.size() != right.size()) {
        return left.size() < right.size() ? -1 : 1;
    }
    return compare_fields(a, b, layers.text);
}

/// Parts and vertices follow their cables into canonical order.
void arrange_geometry(Layers& layers) {
    std::vector<Part> parts;
    std::vector<base::Point2> vertices;
    parts.reserve(layers.parts.size());
    vertices.reserve(layers.vertices.size());
    for (std::size_t i = 0; i < layers.cables.size(); ++i) {
        Cable& cable = layers.cables[i];
        const auto own = layers.parts_of(cable);
        cable.first_part = static_cast<std::uint32_t>(parts.size());
        for (Part part : own) {
            const auto line = layers.line(part);
            part.cable = base::CableId(i);
            part.first_vertex = static_cast<std::uint32_t>(vertices.size());
            vertices.insert(vertices.end(), line.begin(), line.end());
            parts.push_back(part);
        }
    }
    layers.parts = std::move(parts);
    layers.vertices = std::move(vertices);
}

} // namespace

void read_cables(Context& context) {
    const std::size_t sources = context.source.parts(AssetLayer::cables).size();
    for (std::size_t part = 0; part < sources; ++part) {
        read_rows(context, part);
    }
    if (sources == 0) {
        return;
    }
    Layers& layers = context.result.layers;
    LayerRecord& record = context.record(AssetLayer::cables);
    std::vector<base::TextId> ids;
    ids.reserve(layers.cables.size());
    for (const Cable& cable : layers.cables) {
        ids.push_back(cable.id);
    }
    const auto tie = [&](std::uint32_t a, std::uint32_t b) {
        return compare_cables(layers, layers.cables[a], layers.cables[b]);
    };
    record.order = order_by_id(ids, record.fids, tie, layers.text);
    for (std::size_t i = 0; i < ids.size(); ++i) {
        layers.cables[i].id = ids[i];
    }
    arrange(layers.cables, record.order);
    arrange_geometry(layers);
}

} // namespace loopwalk::input
