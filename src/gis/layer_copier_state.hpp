#pragma once

#include "copy_plan.hpp"
#include "layer_state.hpp"
#include "output_layer.hpp"
#include <utility>
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
    State(std::vector<CopiedStream> streams, OutputLayer& written, std::size_t first_added)
        : sources(std::move(streams)), layer(written), row_state{written, first_added} {}

    std::vector<CopiedStream> sources;
    OutputLayer& layer; ///< owned by the OutputDataset
    std::size_t source = 0;
    std::int64_t fid = OGRNullFID;
    OGRGeometryUniquePtr geometry; ///< of the current feature
    Row row;
    Row::State row_state; ///< of the added fields
};

} // namespace loopwalk::gis
