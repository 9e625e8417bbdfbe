// The rows as layers of a GeoPackage, and the key as CSV. One table of fields for each layer.

#include "loopwalk/gis/crs.hpp"
#include "loopwalk/gis/output.hpp"

#include "town.hpp"
#include <algorithm>
#include <fstream>
#include <functional>
#include <stdexcept>
#include <tuple>
#include <utility>
#include <variant>

namespace town {
namespace {

using loopwalk::gis::Crs;
using loopwalk::gis::FieldKind;
using loopwalk::gis::GeometryKind;
using loopwalk::gis::LayerSchema;
using loopwalk::gis::LayerWriter;
using loopwalk::gis::OutputDataset;
using loopwalk::gis::Overwrite;

template <class Row>
struct Field {
    const char* name;
    std::variant<Text Row::*, Number Row::*> member;
};

template <class Row>
void fill(loopwalk::gis::Row& target, const Row& row, const std::vector<Field<Row>>& fields) {
    for (std::size_t f = 0; f < fields.size(); ++f) {
        if (const auto* text = std::get_if<Text Row::*>(&fields[f].member)) {
            if (!(row.*(*text)).empty()) {
                target.set(f, std::string_view(row.*(*text)));
            }
        } else if (const Number& number = row.*std::get<Number Row::*>(fields[f].member)) {
            target.set(f, *number);
        }
    }
}

void write_geometry(LayerWriter& writer, const Column& row) {
    if (row.place) {
        writer.write(*row.place);
    } else {
        writer.write();
    }
}
void write_geometry(LayerWriter& writer, const Supply& row) {
    writer.write(row.place);
}
void write_geometry(LayerWriter& writer, const Joint& row) {
    writer.write(row.place);
}
void write_geometry(LayerWriter& writer, const Cable& row) {
    writer.write(row.lines);
}
void write_geometry(LayerWriter& writer, const Main& row) {
    writer.write(std::vector<Polyline>{row.line});
}
template <class Row>
void write_geometry(LayerWriter& writer, const Row& /*table row*/) {
    writer.write();
}

template <class Row>
void write_layer(OutputDataset& output, const char* name, GeometryKind geometry,
                 const std::vector<Row>& rows, const std::vector<Field<Row>>& fields) {
    LayerSchema schema{.name = name, .geometry = geometry, .fields = {}};
    for (const Field<Row>& field : fields) {
        const bool is_text = std::holds_alternative<Text Row::*>(field.member);
        schema.fields.push_back({field.name, is_text ? FieldKind::text : FieldKind::real});
    }
    LayerWriter writer = output.create_layer(schema, Crs::from_text("EPSG:27700"));
    for (const Row& row : rows) {
        fill(writer.row(), row, fields);
        write_geometry(writer, row);
    }
}

const std::vector<Field<Column>> kColumnFields{{"column_id", &Column::column_id},
                                               {"kind", &Column::kind},
                                               {"road", &Column::road},
                                               {"area", &Column::area},
                                               {"owner", &Column::owner},
                                               {"feed", &Column::feed},
                                               {"circuit", &Column::circuit},
                                               {"phase", &Column::phase},
                                               {"control", &Column::control},
                                               {"load_w", &Column::load_w},
                                               {"power_factor", &Column::power_factor},
                                               {"fuse_type", &Column::fuse_type},
                                               {"fuse_a", &Column::fuse_a},
                                               {"fuse_breaking_ka", &Column::fuse_breaking_ka},
                                               {"poles", &Column::poles},
                                               {"rcd_ma", &Column::rcd_ma},
                                               {"limit_s", &Column::limit_s},
                                               {"tail_type", &Column::tail_type},
                                               {"tail_m", &Column::tail_m},
                                               {"height_m", &Column::height_m},
                                               {"earthing", &Column::earthing},
                                               {"electrode_ohm", &Column::electrode_ohm},
                                               {"status", &Column::status}};

const std::vector<Field<Cable>> kCableFields{
    {"cable_id", &Cable::cable_id}, {"cable_type", &Cable::cable_type},
    {"circuit", &Cable::circuit},   {"length_m", &Cable::length_m},
    {"owner", &Cable::owner},       {"control", &Cable::control},
    {"status", &Cable::status}};

const std::vector<Field<Supply>> kSupplyFields{{"supply_id", &Supply::supply_id},
                                               {"kind", &Supply::kind},
                                               {"road", &Supply::road},
                                               {"earthing", &Supply::earthing},
                                               {"ze_ohm", &Supply::ze_ohm},
                                               {"ze_r_ohm", &Supply::ze_r_ohm},
                                               {"ze_x_ohm", &Supply::ze_x_ohm},
                                               {"ze_basis", &Supply::ze_basis},
                                               {"pscc_ka", &Supply::pscc_ka},
                                               {"pscc3_ka", &Supply::pscc3_ka},
                                               {"pscc_basis", &Supply::pscc_basis},
                                               {"voltage_v", &Supply::voltage_v},
                                               {"phases", &Supply::phases},
                                               {"fuse_type", &Supply::fuse_type},
                                               {"fuse_a", &Supply::fuse_a},
                                               {"rcd_ma", &Supply::rcd_ma},
                                               {"electrode_ohm", &Supply::electrode_ohm},
                                               {"transformer_kva", &Supply::transformer_kva},
                                               {"transformer_z_pct", &Supply::transformer_z_pct},
                                               {"transformer_r_pct", &Supply::transformer_r_pct},
                                               {"status", &Supply::status}};

const std::vector<Field<Way>> kWayFields{
    {"supply_id", &Way::supply_id}, {"way", &Way::way},         {"circuit", &Way::circuit},
    {"phase", &Way::phase},         {"control", &Way::control}, {"fuse_type", &Way::fuse_type},
    {"fuse_a", &Way::fuse_a},       {"rcd_ma", &Way::rcd_ma},   {"limit_s", &Way::limit_s}};

const std::vector<Field<Joint>> kJointFields{{"joint_id", &Joint::joint_id},
                                             {"kind", &Joint::kind},
                                             {"fuse_type", &Joint::fuse_type},
                                             {"fuse_a", &Joint::fuse_a}};

const std::vector<Field<Main>> kMainFields{{"main_id", &Main::main_id},
                                           {"cable_type", &Main::cable_type},
                                           {"length_m", &Main::length_m},
                                           {"customers", &Main::customers}};

const std::vector<Field<Termination>> kTerminationFields{{"asset_id", &Termination::asset_id},
                                                         {"cable_id", &Termination::cable_id},
                                                         {"asset_layer", &Termination::asset_layer},
                                                         {"state", &Termination::state},
                                                         {"side", &Termination::side},
                                                         {"earth", &Termination::earth}};

const std::vector<Field<Load>> kLoadFields{
    {"column_id", &Load::column_id}, {"use", &Load::use},
    {"load_w", &Load::load_w},       {"power_factor", &Load::power_factor},
    {"fuse_type", &Load::fuse_type}, {"fuse_a", &Load::fuse_a},
    {"phase", &Load::phase},         {"rcd_ma", &Load::rcd_ma},
    {"limit_s", &Load::limit_s}};

const std::vector<Field<Reading>> kReadingFields{
    {"asset_id", &Reading::asset_id}, {"asset_layer", &Reading::asset_layer},
    {"taken_on", &Reading::taken_on}, {"taken_at", &Reading::taken_at},
    {"zs_ohm", &Reading::zs_ohm},     {"ra_ohm", &Reading::ra_ohm},
    {"pscc_ka", &Reading::pscc_ka},   {"conductor_c", &Reading::conductor_c},
    {"method", &Reading::method}};

Text quoted(const Text& text) {
    Text result = "\"";
    for (const char c : text) {
        result += c;
        if (c == '"') {
            result += c;
        }
    }
    return result + '"';
}

} // namespace

void write_town(const Town& town, const Text& path) {
    OutputDataset output(path, Overwrite::yes, {});
    write_layer(output, "columns", GeometryKind::point, town.columns, kColumnFields);
    write_layer(output, "cables", GeometryKind::multi_line, town.cables, kCableFields);
    write_layer(output, "supplies", GeometryKind::point, town.supplies, kSupplyFields);
    write_layer(output, "ways", GeometryKind::none, town.ways, kWayFields);
    write_layer(output, "joints", GeometryKind::point, town.joints, kJointFields);
    write_layer(output, "mains", GeometryKind::line, town.mains, kMainFields);
    write_layer(output, "terminations", GeometryKind::none, town.terminations, kTerminationFields);
    write_layer(output, "loads", GeometryKind::none, town.loads, kLoadFields);
    write_layer(output, "readings", GeometryKind::none, town.readings, kReadingFields);
    output.finish();
}

void write_key(const Town& town, const Text& path) {
    std::vector<Expected> key = town.key;
    std::ranges::sort(key, {}, [](const Expected& e) {
        return std::tie(e.rule, e.severity, e.asset_layer, e.asset_id);
    });
    std::ofstream file(path, std::ios::binary);
    file << "rule,severity,asset_layer,asset_id,what_was_planted\n";
    for (const Expected& e : key) {
        file << e.rule << ',' << e.severity << ',' << e.asset_layer << ',' << e.asset_id << ','
             << quoted(e.what_was_planted) << '\n';
    }
    file.close();
    if (!file) {
        throw std::runtime_error("cannot write " + path);
    }
}

} // namespace town
