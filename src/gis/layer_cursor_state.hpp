#pragma once

#include "layer_state.hpp"

namespace loopwalk::gis {

struct LayerCursor::State {
    FeatureStream stream;
    std::size_t field_count;
    Geometry geometry;
};

} // namespace loopwalk::gis
