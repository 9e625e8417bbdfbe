#include "read_back.hpp"

#include "loopwalk/gis/interrupt.hpp"

#include "row_mixer.hpp"
#include "sqlite_value.hpp"
#include <array>
#include <bit>
#include <cstring>
#include <optional>

namespace loopwalk::gis {
namespace {

/// Header of a geometry: GeoPackage 1.2.1, clause 2.1.3 "StandardGeoPackageBinary".
struct StoredGeometry {
    std::string_view well_known_bytes;
    std::array<double, 6> sides{};
    std::size_t side_count = 0;
    bool is_empty = false;
};

/// None where it is no geometry of a GeoPackage in the system of its layer.
std::optional<StoredGeometry> parsed(std::string_view blob, std::int64_t system) {
    constexpr std::size_t kFixed = 8;                           // magic, version, flags, system
    constexpr std::array<std::size_t, 4> kSides = {0, 4, 6, 6}; // none, xy, xyz, xym
    static_assert(std::endian::native == std::endian::little, "GDAL writes in the native order");
    if (blob.size() < kFixed || !blob.starts_with(std::string_view("GP\0", 3))) {
        return std::nullopt;
    }
    const auto flags = static_cast<unsigned char>(blob[3]);
    const unsigned shape = (flags >> 1U) & 7U;
    constexpr unsigned kEmpty = 16;
    constexpr unsigned kNeverSet = 0xE0; // reserved, and a geometry that only an extension knows
    std::int32_t stored_system = 0;
    std::memcpy(&stored_system, blob.data() + 4, sizeof stored_system);
    if ((flags & 1U) == 0 || (flags & kNeverSet) != 0 || shape >= kSides.size() ||
        stored_system != system) {
        return std::nullopt;
    }
    StoredGeometry geometry;
    geometry.side_count = kSides.at(shape);
    geometry.is_empty = (flags & kEmpty) != 0;
    const std::size_t box_size = geometry.side_count * sizeof(double);
    if (blob.size() < kFixed + box_size) {
        return std::nullopt;
    }
    std::memcpy(geometry.sides.data(), blob.data() + kFixed, box_size);
    geometry.well_known_bytes = blob.substr(kFixed + box_size);
    return geometry;
}

void add_geometry(RowMixer& mixer, const SqliteValue& value, std::int64_t system) {
    const SqliteStorage storage = value.storage();
    if (storage == SqliteStorage::null) {
        mixer.null();
        return;
    }
    if (const auto geometry = parsed(value.bytes(), system)) {
        mixer.geometry(geometry->well_known_bytes,
                       std::span(geometry->sides).first(geometry->side_count),
                       geometry->is_empty ? RowMixer::Shape::empty : RowMixer::Shape::filled);
    } else {
        mixer.foreign(static_cast<int>(storage));
    }
}

void add_moment(RowMixer& mixer, std::string_view text) {
    OGRField moment{};
    if (OGRParseDate(std::string(text).c_str(), &moment, 0) != 0) {
        mixer.moment(moment);
    } else {
        mixer.text(text);
    }
}

/// The storage class that a value of this type has.
SqliteStorage storage_of(OGRFieldType type) noexcept {
    if (type == OFTInteger || type == OFTInteger64) {
        return SqliteStorage::integer;
    }
    if (type == OFTReal) {
        return SqliteStorage::real;
    }
    return type == OFTBinary ? SqliteStorage::bytes : SqliteStorage::text;
}

void add_value(RowMixer& mixer, const SqliteValue& value, OGRFieldType type) {
    const SqliteStorage storage = value.storage();
    if (storage == SqliteStorage::null) {
        mixer.null();
    } else if (storage != storage_of(type)) {
        mixer.foreign(static_cast<int>(storage));
    } else if (storage == SqliteStorage::real) {
        mixer.real(value.real());
    } else if (storage == SqliteStorage::integer) {
        mixer.integer(value.integer());
    } else if (storage == SqliteStorage::bytes) {
        mixer.bytes(value.bytes());
    } else if (type == OFTDate || type == OFTDateTime) {
        add_moment(mixer, value.bytes());
    } else {
        mixer.text(value.bytes());
    }
}

/// The number that the geometries of a layer carry.
std::int64_t system_of(SqliteConnection& database, const IndexedTable& table) {
    SqliteStatement row(database, "SELECT srs_id FROM gpkg_geometry_columns WHERE table_name = ?");
    row.bind(1, table.table);
    return row.next() ? SqliteValue(row.value(0)).integer() : -1;
}

} // namespace

TableContents contents_of(SqliteConnection& database, const OutputLayer& layer) {
    constexpr std::int64_t kRowsBetweenLooks = 1024;
    const bool has_geometry = !layer.table.geometry.empty();
    const std::int64_t system = has_geometry ? system_of(database, layer.table) : 0;
    // By position: SQLite takes the quoted name of a column that is not there for a text.
    SqliteStatement rows(database, "SELECT * FROM " + sql_name(layer.table.table));
    TableContents contents;
    for (int column = 0; column < rows.column_count(); ++column) {
        contents.columns.push_back(rows.column_name(column));
    }
    if (contents.columns != layer.columns) {
        return contents;
    }
    const int first_field = has_geometry ? 2 : 1;
    while (rows.next()) {
        RowMixer mixer;
        mixer.integer(SqliteValue(rows.value(0)).integer());
        if (has_geometry) {
            add_geometry(mixer, SqliteValue(rows.value(1)), system);
        }
        for (std::size_t i = 0; i < layer.types.size(); ++i) {
            add_value(mixer, SqliteValue(rows.value(first_field + static_cast<int>(i))),
                      layer.types[i]);
        }
        contents.digest += mixer.state();
        if (++contents.rows % kRowsBetweenLooks == 0) {
            stop_if_asked();
        }
    }
    return contents;
}

std::string header_query() {
    return "SELECT group_concat(told, char(10)) FROM ("
           "SELECT 'layer ' || quote(table_name) || quote(data_type) || quote(identifier) || "
           "quote(srs_id) AS told FROM gpkg_contents UNION ALL "
           "SELECT 'geometry ' || quote(table_name) || quote(column_name) || quote(srs_id) || "
           "quote(z) || quote(m) FROM gpkg_geometry_columns UNION ALL "
           "SELECT 'system ' || quote(srs_name) || quote(srs_id) || quote(organization) || "
           "quote(organization_coordsys_id) || quote(definition) FROM gpkg_spatial_ref_sys "
           "UNION ALL SELECT 'table ' || sql FROM sqlite_master WHERE type = 'table' AND name IN "
           "(SELECT table_name FROM gpkg_contents) ORDER BY 1)";
}

} // namespace loopwalk::gis
