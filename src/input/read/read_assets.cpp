// Layers of points, and mains.
#include "read_assets.hpp"

#include "coordinate_systems.hpp"
#include "field_tables.hpp"
#include "geometry.hpp"

namespace loopwalk::input {

namespace {

using base::AssetLayer;

base::TextId area_of(const model::Column& column) {
    return column.area;
}
template <class T>
base::TextId area_of(const T&) {
    return {};
}

/// Names and orders rows that have an id and are compared as a whole.
template <class T>
void put_in_order(Context& context, AssetLayer layer, std::vector<T>& rows) {
    LayerRecord& record = context.record(layer);
    std::vector<base::TextId> ids;
    ids.reserve(rows.size());
    for (const T& row : rows) {
        ids.push_back(row.id);
    }
    const auto tie = [&](std::uint32_t a, std::uint32_t b) {
        return compare(rows[a], rows[b], context.text());
    };
    record.order = order_by_id(ids, record.fids, tie, context.text());
    for (std::size_t i = 0; i < rows.size(); ++i) {
        rows[i].id = ids[i];
    }
    arrange(rows, record.order);
}

template <class T>
void read_part(Context& context, AssetLayer layer, std::size_t part, std::vector<T>& out) {
    const gis::Transform transform = transform_of(context, layer, part);
    RowReader rows(context, layer, part, gis::Layer::WithGeometry::yes);
    out.reserve(out.size() + rows.room());
    while (rows.next()) {
        T row;
        read_fields(rows, row);
        row.fid = rows.fid();
        if (const auto place = read_place(rows, transform)) {
            row.place = *place;
            row.has_place = true;
        }
        rows.count_known(area_of(row));
        out.push_back(row);
    }
}

void read_part(Context& context, AssetLayer layer, std::size_t part,
               std::vector<model::Main>& out) {
    const gis::Transform transform = transform_of(context, layer, part);
    const gis::GroundLength ground(system_of(context, *context.source.parts(layer)[part]));
    RowReader rows(context, layer, part, gis::Layer::WithGeometry::yes);
    while (rows.next()) {
        model::Main main;
        read_fields(rows, main);
        main.fid = rows.fid();
        for (CleanLine& line : read_lines(rows, {transform, ground})) {
            main.lines.push_back(std::move(line.line));
            main.drawn.push_back(line.drawn);
        }
        rows.count_known({});
        out.push_back(std::move(main));
    }
}

template <class T>
void read_parts(Context& context, AssetLayer layer, std::vector<T>& out) {
    const std::size_t parts = context.source.parts(layer).size();
    for (std::size_t part = 0; part < parts; ++part) {
        read_part(context, layer, part, out);
    }
    if (parts > 0) {
        put_in_order(context, layer, out);
    }
}

} // namespace

void read_columns(Context& context) {
    read_parts(context, AssetLayer::columns, context.result.layers.columns);
}

void read_supplies(Context& context) {
    read_parts(context, AssetLayer::supplies, context.result.layers.supplies);
}

void read_joints(Context& context) {
    read_parts(context, AssetLayer::joints, context.result.layers.joints);
}

void read_mains(Context& context) {
    read_parts(context, AssetLayer::mains, context.result.layers.mains);
}

} // namespace loopwalk::input
