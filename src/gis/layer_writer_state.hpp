#pragma once

#include "output_layer.hpp"
#include <vector>

namespace loopwalk::gis {

struct LayerWriter::State {
    OutputLayer& layer; ///< owned by the OutputDataset
    GeometryKind kind;
    Row row;
    Row::State row_state;
    OGRGeometryUniquePtr geometry; ///< lent to the feature while it is written
    std::vector<OGRRawPoint> vertices;
};

} // namespace loopwalk::gis
