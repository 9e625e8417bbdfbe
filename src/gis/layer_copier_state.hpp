#pragma once

#include "copy_plan.hpp"
#include "layer_state.hpp"
#include "output_layer.hpp"
#include <vector>

namespace loopwalk::gis {

/// One of the layers that are copied.
struct CopiedStream {
    FeatureStream stream;
    std::vector<CopiedField> fields;
    std::int64_t offset = 0;
    std::optional<PlaceFields> place_fields;
    Transform transform; ///< to the system of the output
};

struct LayerCopier::State {
    std::vector<CopiedStream> sources;
    OutputLayer& layer; ///< owned by the OutputDataset
    std::size_t source = 0;
    std::int64_t fid = OGRNullFID;
    Row row;
    Row::State row_state;
};

} // namespace loopwalk::gis
