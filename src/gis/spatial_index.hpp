// The GeoPackage spatial index of one table, built in bulk: GeoPackage 1.2.1, annex F.3 (extension
// gpkg_rtree_index). docs/decisions/001-packed-spatial-index.md tells why not by GDAL.
#pragma once

#include "rtree_packing.hpp"
#include "sqlite_connection.hpp"
#include <string>
#include <vector>

namespace loopwalk::gis {

struct IndexedTable {
    std::string table;
    std::string key;
    std::string geometry;
};

/// Creates the virtual table, fills it, registers it and adds the triggers that keep it up to date.
/// Precondition: the table has no index; a transaction is open. Throws OutputError.
void write_spatial_index(SqliteConnection& database, const IndexedTable& table,
                         std::vector<IndexEntry> entries);

/// Number of features in the index.
[[nodiscard]] std::int64_t indexed_rows(SqliteConnection& database, const IndexedTable& table);

} // namespace loopwalk::gis
