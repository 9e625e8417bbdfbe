// The tables of a GeoPackage that tell what its layers hold: GeoPackage 1.2.1, clauses 1.1.3,
// 2.1.5 and 2.3, and GDAL's own count of features. For this folder only.
#pragma once

#include <ogr_geometry.h>

#include "sqlite_connection.hpp"
#include <set>
#include <string>

namespace loopwalk::gis {

struct IndexedTable;

/// What the geometries of a layer have among them.
struct GeometrySummary {
    OGREnvelope extent; ///< of those that are not empty
    bool any_z = false;
    bool any_m = false;
    bool any_other = false;                  ///< of a type that is not the layer's
    std::set<OGRwkbGeometryType> extensions; ///< types that only an extension knows

    /// `box` is that of the geometry; not initialised where it is empty.
    void add(const OGRGeometry& geometry, const OGREnvelope& box, OGRwkbGeometryType layer_type);
};

/// After the last row. Precondition: the layer is registered, a transaction is open. Throws
/// OutputError.
void tell_contents(SqliteConnection& database, const IndexedTable& table, std::int64_t rows,
                   const GeometrySummary& geometries);

/// The number that the geometries of a layer carry; -1 where it is not registered.
[[nodiscard]] std::int32_t system_number(SqliteConnection& database, const std::string& table);

/// A row of gpkg_extensions.
struct GpkgExtension {
    std::string name;
    std::string clause; ///< of the standard: the end of its address
    std::string scope;
};
void register_extension(SqliteConnection& database, const IndexedTable& table,
                        const GpkgExtension& extension);

} // namespace loopwalk::gis
