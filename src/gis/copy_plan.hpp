// Which fields a copied layer gets, under which names and types. GeoPackage names are compared
// without case, and the key and the geometry are columns too.
#pragma once

#include <ogrsf_frmts.h>

#include "output_layer.hpp"
#include <string>
#include <vector>

namespace loopwalk::gis {

enum class Transfer : std::uint8_t {
    as_stored, ///< the same type, or an integer for a wider column of integers
    as_real,   ///< an integer for a column of real numbers
    as_text,   ///< a type that GeoPackages lack, given as text
    as_json,   ///< a list
};

struct CopiedField {
    int from = 0;                  ///< index in the source
    OGRFieldType type = OFTString; ///< there
    Transfer transfer = Transfer::as_stored;
    int to = 0; ///< index in the output
};

/// What is copied from one of the sources of a layer.
struct CopiedLayer {
    std::vector<CopiedField> fields;
    std::vector<std::string> dropped; ///< names of incoming lw_ fields
};

struct CopyPlan {
    std::string key;
    std::string geometry; ///< empty if the layer has none
    OGRwkbGeometryType geometry_type = wkbUnknown;
    std::vector<OutputColumn> columns; ///< they come first, in the order of the sources
    std::vector<CopiedLayer> sources;
};

/// A layer to copy.
struct CopiedSource {
    OGRLayer* layer = nullptr;
    bool has_place_fields = false; ///< a table that becomes points
};

/// `sources` are at least one.
[[nodiscard]] CopyPlan plan_copy(const std::vector<CopiedSource>& sources,
                                 const std::vector<OutputField>& added);

} // namespace loopwalk::gis
