// Which fields a copied layer gets, under which names and types. GeoPackage names are compared
// without case, and the key and the geometry are columns too.
#pragma once

#include <ogrsf_frmts.h>

#include "output_layer.hpp"
#include <string>
#include <vector>

namespace loopwalk::gis {

enum class Transfer : std::uint8_t {
    move,    ///< same type: the value changes hands
    as_text, ///< a type that GeoPackages lack, given as text
    as_json, ///< a list
};

struct CopiedField {
    int from = 0; ///< index in the source
    Transfer transfer = Transfer::move;
    OutputColumn column;
};

struct CopyPlan {
    std::string key;
    std::string geometry; ///< empty if the layer has none
    OGRwkbGeometryType geometry_type = wkbUnknown;
    std::vector<CopiedField> fields;  ///< they come first, in the source's order
    std::vector<std::string> dropped; ///< names of incoming lw_ fields
};

[[nodiscard]] CopyPlan plan_copy(OGRLayer& source, const std::vector<OutputField>& added);

} // namespace loopwalk::gis
