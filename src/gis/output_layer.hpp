// One layer that is being written: what LayerWriter, LayerCopier and OutputDataset share.
#pragma once

#include "loopwalk/gis/output.hpp"

#include <ogrsf_frmts.h>

#include "rtree_packing.hpp"
#include "spatial_index.hpp"
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
    std::string system;        ///< text of the coordinate system that was asked for; empty: unknown
    OGRLayer* layer = nullptr; ///< owned by the dataset
    OGRFeatureUniquePtr feature;
    SpatialIndex index = SpatialIndex::no;
    bool mixed_geometry = false; ///< a feature's geometry type is not the layer's
    std::int64_t written = 0;
    std::uint64_t digest = 0;      ///< sum of digest_of() over what was written
    std::int64_t indexed = 0;      ///< features that belong into the index
    std::vector<IndexEntry> boxes; ///< of those; moved out when the index is packed

    /// Writes `feature`. Throws OutputError.
    void put();
};

/// Where a Row puts its values.
struct Row::State {
    OGRFeature* feature = nullptr;
    int first_field = 0;
    std::size_t field_count = 0;
    std::string text; ///< kept for the next call

    void set_all_null();
    [[nodiscard]] int position(std::size_t field) const;
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
