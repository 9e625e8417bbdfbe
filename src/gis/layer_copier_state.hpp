#pragma once

#include "copy_plan.hpp"
#include "layer_state.hpp"
#include "output_layer.hpp"
#include <vector>

namespace loopwalk::gis {

struct LayerCopier::State {
    FeatureStream stream;
    OutputLayer& layer; ///< owned by the OutputDataset
    std::vector<CopiedField> fields;
    std::int64_t fid = OGRNullFID;
    Row row;
    Row::State row_state;
};

} // namespace loopwalk::gis
