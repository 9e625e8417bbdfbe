#include "gpkg_contents.hpp"

#include "spatial_index.hpp"
#include "sqlite_value.hpp"

namespace loopwalk::gis {
namespace {

void add_extensions(const OGRGeometry& geometry, std::set<OGRwkbGeometryType>& types) {
    const OGRwkbGeometryType type = wkbFlatten(geometry.getGeometryType());
    if (type < wkbGeometryCollection) {
        return;
    }
    if (type > wkbGeometryCollection) {
        types.insert(type);
    }
    if (const auto* parts = dynamic_cast<const OGRGeometryCollection*>(&geometry)) {
        for (const OGRGeometry* part : *parts) {
            add_extensions(*part, types);
        }
    }
}

void tell_count(SqliteConnection& database, const std::string& table, std::int64_t rows) {
    SqliteStatement count(database,
                          "UPDATE gpkg_ogr_contents SET feature_count = ? WHERE table_name = ?");
    count.bind(1, rows);
    count.bind(2, table);
    count.run();
}

void tell_extent(SqliteConnection& database, const std::string& table, const OGREnvelope& extent) {
    SqliteStatement box(database, "UPDATE gpkg_contents SET min_x = ?, min_y = ?, max_x = ?, "
                                  "max_y = ? WHERE table_name = ?");
    box.bind(1, extent.MinX);
    box.bind(2, extent.MinY);
    box.bind(3, extent.MaxX);
    box.bind(4, extent.MaxY);
    box.bind(5, table);
    box.run();
}

/// `assignment` for the layer's row.
void tell_geometry(SqliteConnection& database, const std::string& table,
                   const std::string& assignment) {
    SqliteStatement statement(database, "UPDATE gpkg_geometry_columns SET " + assignment +
                                            " WHERE table_name = ?");
    statement.bind(1, table);
    statement.run();
}

} // namespace

void GeometrySummary::add(const OGRGeometry& geometry, const OGREnvelope& box,
                          OGRwkbGeometryType layer_type) {
    if (box.IsInit() != 0) {
        extent.Merge(box);
    }
    any_z = any_z || geometry.Is3D() != 0;
    any_m = any_m || geometry.IsMeasured() != 0;
    const OGRwkbGeometryType type = wkbFlatten(geometry.getGeometryType());
    any_other = any_other || (layer_type != wkbUnknown && type != layer_type &&
                              OGR_GT_IsSubClassOf(type, layer_type) == 0);
    if (type >= wkbGeometryCollection) {
        add_extensions(geometry, extensions);
    }
}

void tell_contents(SqliteConnection& database, const IndexedTable& table, std::int64_t rows,
                   const GeometrySummary& geometries) {
    if (rows > 0) {
        tell_count(database, table.table, rows);
    }
    if (geometries.extent.IsInit() != 0) {
        tell_extent(database, table.table, geometries.extent);
    }
    if (geometries.any_z) { // 0: prohibited, 1: mandatory, 2: optional
        tell_geometry(database, table.table, "z = CASE z WHEN 0 THEN 2 ELSE z END");
    }
    if (geometries.any_m) {
        tell_geometry(database, table.table, "m = CASE m WHEN 0 THEN 2 ELSE m END");
    }
    if (geometries.any_other) { // a shapefile that says "line" may hold multi-lines
        tell_geometry(database, table.table, "geometry_type_name = 'GEOMETRY'");
    }
    for (const OGRwkbGeometryType type : geometries.extensions) {
        register_extension(
            database, table,
            {"gpkg_geom_" + std::string(OGRToOGCGeomType(type)), "geometry_types", "read-write"});
    }
}

std::int32_t system_number(SqliteConnection& database, const std::string& table) {
    SqliteStatement row(database, "SELECT srs_id FROM gpkg_geometry_columns WHERE table_name = ?");
    row.bind(1, table);
    return row.next() ? static_cast<std::int32_t>(SqliteValue(row.value(0)).integer()) : -1;
}

void register_extension(SqliteConnection& database, const IndexedTable& table,
                        const GpkgExtension& extension) {
    database.execute("CREATE TABLE IF NOT EXISTS gpkg_extensions (table_name TEXT,column_name TEXT,"
                     "extension_name TEXT NOT NULL,definition TEXT NOT NULL,scope TEXT NOT NULL,"
                     "CONSTRAINT ge_tce UNIQUE (table_name, column_name, extension_name))");
    // A curve may be known already: from the type of its layer.
    SqliteStatement row(database, "INSERT OR IGNORE INTO gpkg_extensions VALUES (?, ?, ?, ?, ?)");
    const std::string definition =
        "http://www.geopackage.org/spec120/#extension_" + extension.clause;
    row.bind(1, table.table);
    row.bind(2, table.geometry);
    row.bind(3, extension.name);
    row.bind(4, definition);
    row.bind(5, extension.scope);
    row.run();
}

} // namespace loopwalk::gis
