// What stands in a written GeoPackage, read by SQLite itself: a third of the time that GDAL's
// features take, and no reader between.
#pragma once

#include "output_layer.hpp"
#include "sqlite_connection.hpp"
#include <cstdint>
#include <string>
#include <vector>

namespace loopwalk::gis {

struct TableContents {
    std::vector<std::string> columns; ///< names, in the order of the table
    std::int64_t rows = 0;
    std::uint64_t digest = 0; ///< sum over the rows of what digest_of() gives for a feature
};

/// Of the table of a layer. Throws OutputError where it cannot be read, Interrupted.
[[nodiscard]] TableContents contents_of(SqliteConnection& database, const OutputLayer& layer);

/// A query for one text: layers, declared columns and coordinate systems, without what is filled in
/// at the end (extents, counts, indexes).
[[nodiscard]] std::string header_query();

} // namespace loopwalk::gis
