#pragma once

#include "layer_state.hpp"

namespace loopwalk::gis {

struct LayerCursor::State {
    FeatureStream stream;
    std::size_t field_count;
    Geometry geometry;
    std::optional<PlaceFields> place_fields;
    std::optional<base::Box> box; ///< for place_fields
};

} // namespace loopwalk::gis
