#include "loopwalk/gis/output.hpp"

#include "bench/county.hpp"
#include <array>
#include <cstdio>
#include <string_view>
#include <variant>

namespace loopwalk::bench {

namespace {

using gis::FieldKind;
using gis::GeometryKind;
using gis::LayerSchema;
using gis::OutputField;

using Value = std::variant<std::string, double, std::int64_t>;

std::string numbered(std::string_view prefix, std::size_t number) {
    std::array<char, 16> digits{};
    std::snprintf(digits.data(), digits.size(), "%07zu", number + 1);
    return std::string(prefix) + digits.data();
}

std::string area_of(std::uint32_t cell) {
    return "Ward " + std::to_string(cell / 40 + 1);
}
std::string road_of(std::uint32_t cell) {
    return "Road " + std::to_string(cell + 1);
}
std::string phase_of(const std::string& circuit) {
    return circuit.empty() ? "L1" : std::string("L") + circuit.back();
}

/// A field and its value in each feature of the layer.
template <class Feature>
struct Attribute {
    OutputField field;
    Value (*value)(const Feature& feature, std::size_t index);
};

void set(gis::Row& row, std::size_t field, const Value& value) {
    if (const auto* text = std::get_if<std::string>(&value)) {
        if (!text->empty()) {
            row.set(field, std::string_view(*text));
        }
    } else if (const auto* real = std::get_if<double>(&value)) {
        row.set(field, *real);
    } else {
        row.set(field, std::get<std::int64_t>(value));
    }
}

void write_place(gis::LayerWriter& writer, const Column& column) {
    writer.write(column.place);
}
void write_place(gis::LayerWriter& writer, const Cable& cable) {
    writer.write({cable.line});
}
void write_place(gis::LayerWriter& writer, const Supply& supply) {
    writer.write(supply.place);
}
void write_place(gis::LayerWriter& writer, const Way&) {
    writer.write();
}
void write_place(gis::LayerWriter& writer, const base::Point2& joint) {
    writer.write(joint);
}

template <class Feature>
void write_layer(gis::OutputDataset& output, const std::string& name, GeometryKind geometry,
                 const std::vector<Attribute<Feature>>& attributes,
                 const std::vector<Feature>& features) {
    LayerSchema schema{name, geometry, gis::SpatialIndex::yes, {}};
    for (const auto& attribute : attributes) {
        schema.fields.push_back(attribute.field);
    }
    auto writer = output.create_layer(schema, gis::Crs::from_text("EPSG:27700"));
    for (std::size_t i = 0; i < features.size(); ++i) {
        auto& row = writer.row();
        for (std::size_t field = 0; field < attributes.size(); ++field) {
            set(row, field, attributes[field].value(features[i], i));
        }
        write_place(writer, features[i]);
    }
}

OutputField text(const char* name) {
    return {name, FieldKind::text};
}
OutputField real(const char* name) {
    return {name, FieldKind::real};
}
OutputField integer(const char* name) {
    return {name, FieldKind::integer};
}

std::vector<Attribute<Column>> column_attributes() {
    using C = const Column&;
    using I = std::size_t;
    return {
        {text("column_id"), [](C, I i) -> Value { return numbered("C", i); }},
        {text("road"), [](C c, I) -> Value { return road_of(c.cell); }},
        {text("area"), [](C c, I) -> Value { return area_of(c.cell); }},
        {text("owner"),
         [](C c, I) -> Value { return std::string(c.on_service ? "distributor" : "council"); }},
        {text("feed"),
         [](C c, I) -> Value { return std::string(c.on_service ? "main" : "pillar"); }},
        {text("circuit"), [](C c, I) -> Value { return c.circuit; }},
        {text("phase"), [](C c, I) -> Value { return phase_of(c.circuit); }},
        {text("control"), [](C, I) -> Value { return std::string("own photocell"); }},
        {real("load_w"), [](C, I i) -> Value { return 20.0 + static_cast<double>(pick(i, 60)); }},
        {real("power_factor"), [](C, I) -> Value { return 0.95; }},
        {text("fuse_type"), [](C, I) -> Value { return std::string("BS 88-2"); }},
        {integer("fuse_a"), [](C, I) -> Value { return std::int64_t{6}; }},
        {real("fuse_breaking_ka"), [](C, I) -> Value { return 80.0; }},
        {text("poles"), [](C, I) -> Value { return std::string("1"); }},
        {text("tail_type"), [](C, I) -> Value { return std::string("Flex 3x1.5"); }},
        {real("tail_m"), [](C, I) -> Value { return 8.0; }},
        {real("height_m"), [](C, I) -> Value { return 6.0; }},
        {text("status"), [](C, I) -> Value { return std::string("in service"); }},
    };
}

std::vector<Attribute<Cable>> cable_attributes() {
    using C = const Cable&;
    using I = std::size_t;
    return {
        {text("cable_id"), [](C, I i) -> Value { return numbered("K", i); }},
        {text("cable_type"), [](C, I) -> Value { return std::string("SWA XLPE Cu 2x6"); }},
        {text("circuit"), [](C c, I) -> Value { return c.circuit; }},
        {real("length_m"), [](C c, I) -> Value { return base::length(c.line) * 1.02 + 2.0; }},
        {text("owner"),
         [](C c, I) -> Value { return std::string(c.is_service ? "distributor" : "council"); }},
        {text("control"), [](C, I) -> Value { return std::string("permanent"); }},
        {text("status"), [](C, I) -> Value { return std::string("in service"); }},
        {text("road"), [](C c, I) -> Value { return road_of(c.cell); }},
        {text("area"), [](C c, I) -> Value { return area_of(c.cell); }},
        {integer("laid_in"),
         [](C, I i) -> Value { return static_cast<std::int64_t>(1965 + pick(i, 55)); }},
        {real("depth_m"),
         [](C, I i) -> Value { return 0.45 + static_cast<double>(pick(i, 30)) / 100.0; }},
        {text("drawing"), [](C c, I) -> Value { return numbered("DRG-", c.cell); }},
    };
}

std::vector<Attribute<Supply>> supply_attributes() {
    using S = const Supply&;
    using I = std::size_t;
    return {
        {text("supply_id"), [](S s, I) -> Value { return s.id; }},
        {text("kind"),
         [](S s, I) -> Value { return std::string(s.is_service ? "service" : "pillar"); }},
        {text("earthing"), [](S, I) -> Value { return std::string("TN-S"); }},
        {real("ze_ohm"), [](S, I) -> Value { return 0.3; }},
        {text("ze_basis"), [](S, I) -> Value { return std::string("measured"); }},
        {real("pscc_ka"), [](S, I) -> Value { return 2.0; }},
        {text("pscc_basis"), [](S, I) -> Value { return std::string("declared"); }},
        {real("voltage_v"), [](S, I) -> Value { return 230.0; }},
        {integer("phases"), [](S s, I) -> Value { return std::int64_t{s.is_service ? 1 : 3}; }},
        {text("fuse_type"), [](S, I) -> Value { return std::string("BS 88-2"); }},
        {integer("fuse_a"), [](S, I) -> Value { return std::int64_t{63}; }},
        {text("status"), [](S, I) -> Value { return std::string("in service"); }},
        {text("road"), [](S s, I) -> Value { return road_of(s.cell); }},
        {text("area"), [](S s, I) -> Value { return area_of(s.cell); }},
    };
}

std::vector<Attribute<Way>> way_attributes() {
    using W = const Way&;
    using I = std::size_t;
    return {
        {text("supply_id"), [](W w, I) -> Value { return w.supply_id; }},
        {text("way"), [](W w, I) -> Value { return w.way; }},
        {text("circuit"), [](W w, I) -> Value { return w.circuit; }},
        {text("phase"), [](W w, I) -> Value { return phase_of(w.circuit); }},
        {text("control"), [](W, I) -> Value { return std::string("permanent"); }},
        {text("fuse_type"), [](W, I) -> Value { return std::string("BS 88-2"); }},
        {integer("fuse_a"), [](W, I) -> Value { return std::int64_t{16}; }},
    };
}

std::vector<Attribute<base::Point2>> joint_attributes() {
    using P = const base::Point2&;
    return {
        {text("joint_id"), [](P, std::size_t i) -> Value { return numbered("J", i); }},
        {text("kind"), [](P, std::size_t) -> Value { return std::string("tee"); }},
    };
}

} // namespace

void write_county(const County& county, const std::string& path) {
    gis::OutputDataset output(path, gis::Overwrite::yes, {});
    write_layer(output, "columns", GeometryKind::point, column_attributes(), county.columns);
    write_layer(output, "cables", GeometryKind::line, cable_attributes(), county.cables);
    write_layer(output, "supplies", GeometryKind::point, supply_attributes(), county.supplies);
    write_layer(output, "ways", GeometryKind::none, way_attributes(), county.ways);
    write_layer(output, "joints", GeometryKind::point, joint_attributes(), county.joints);
    output.finish();
}

} // namespace loopwalk::bench
