// One layer that is being written: what LayerWriter, LayerCopier and OutputDataset share.
#pragma once

#include "loopwalk/gis/output.hpp"

#include <ogrsf_frmts.h>

#include "gpkg_contents.hpp"
#include "row_writer.hpp"
#include "rtree_packing.hpp"
#include "spatial_index.hpp"
#include "stored_value.hpp"
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace loopwalk::gis {

/// "disk full?" where GDAL's text points to it, else the text.
[[noreturn]] void output_failed(const std::string& target, const std::string& doing,
                                const std::string& why);

struct OutputLayer {
    std::string target; ///< the file's name as the user knows it, for messages
    IndexedTable table;
    std::vector<std::string> columns; ///< key, geometry if any, fields: as the table has them
    std::vector<OGRFieldType> types;  ///< of the fields
    std::string system; ///< text of the coordinate system that was asked for; empty: unknown
    OGRwkbGeometryType geometry_type = wkbNone;
    SpatialIndex index = SpatialIndex::no;
    GeometrySummary geometries;
    std::int64_t written = 0;
    std::uint64_t digest = 0;      ///< sum of what RowMixer gives for each row, after close()
    std::int64_t indexed = 0;      ///< features that belong into the index
    std::vector<IndexEntry> boxes; ///< of those; moved out when the index is packed

    /// The table is there. Until close(), the connection is this layer's alone. Throws OutputError.
    void open(SqliteConnection& database);
    /// The fields of the next row, all null.
    [[nodiscard]] std::vector<StoredValue>& start_row();
    [[nodiscard]] std::vector<StoredValue>& row();
    /// Writes the row. Without `key` it gets the next one. Throws OutputError, also of rows before.
    void put(std::optional<std::int64_t> key, const OGRGeometry* geometry);
    /// Returns when all rows are in the table. Throws OutputError.
    void close();

  private:
    void note(std::int64_t key, const OGRGeometry& geometry);

    std::int32_t m_system = 0;   ///< its number
    std::int64_t m_last_key = 0; ///< the greatest
    std::unique_ptr<RowWriter> m_rows;
};

/// Where a Row puts its values.
struct Row::State {
    OutputLayer& layer;
    std::size_t first_field = 0;
    [[nodiscard]] StoredValue& at(std::size_t field) const;
};

/// A field of the output as GDAL has it.
struct OutputColumn {
    std::string name;
    OGRFieldType type = OFTString;
    OGRFieldSubType subtype = OFSTNone;
    int width = 0;
    int precision = 0;
};
[[nodiscard]] OutputColumn column_of(const OutputField& field);

} // namespace loopwalk::gis
