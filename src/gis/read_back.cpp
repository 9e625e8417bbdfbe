#include "read_back.hpp"

#include "loopwalk/gis/interrupt.hpp"

#include "gpkg_contents.hpp"
#include "gpkg_geometry.hpp"
#include "row_mixer.hpp"
#include "sqlite_value.hpp"

namespace loopwalk::gis {
namespace {

void add_geometry(RowMixer& mixer, const SqliteValue& value, std::int64_t system) {
    const SqliteStorage storage = value.storage();
    if (storage == SqliteStorage::null) {
        mixer.null();
        return;
    }
    if (const auto geometry = from_gpkg(value.bytes(), system)) {
        geometry->mix_into(mixer);
    } else {
        mixer.foreign(static_cast<int>(storage));
    }
}

void add_moment(RowMixer& mixer, std::string_view text) {
    OGRField moment{};
    if (OGRParseDate(std::string(text).c_str(), &moment, 0) != 0) {
        mixer.moment(milliseconds_to(moment));
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

} // namespace

TableContents contents_of(SqliteConnection& database, const OutputLayer& layer) {
    constexpr std::int64_t kRowsBetweenLooks = 1024;
    const bool has_geometry = !layer.table.geometry.empty();
    const std::int64_t system = has_geometry ? system_number(database, layer.table.table) : 0;
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
