#pragma once

#include "output_layer.hpp"
#include <vector>

namespace loopwalk::gis {

struct LayerWriter::State {
    State(OutputLayer& written, GeometryKind geometry_kind)
        : layer(written), kind(geometry_kind), row_state{written} {}

    OutputLayer& layer; ///< owned by the OutputDataset
    GeometryKind kind;
    Row row;
    Row::State row_state;
    OGRLineString line; ///< its memory serves every row
    std::vector<OGRRawPoint> vertices;
};

} // namespace loopwalk::gis
