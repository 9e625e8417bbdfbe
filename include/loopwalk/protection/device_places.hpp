// Where each device of the network stands: what is upstream of it, and at which vertex a fault just
// behind it draws the largest current.
#pragma once

#include "loopwalk/figures/inputs.hpp"

#include <vector>

namespace loopwalk::protection {

/// Where a device stands on the way from its source.
struct DevicePlace {
    bool is_reached = false; ///< on the one path from one infeed; else the rest means nothing
    base::DeviceId upstream; ///< invalid: none behind the source's terminals
    base::VertexId vertex;   ///< the vertex it stands at
    base::InfeedId infeed;   ///< that feeds it
};

/// By device. Cost: linear in vertices.
[[nodiscard]] std::vector<DevicePlace> device_places(const network::Network& network,
                                                     const trace::Trace& trace);

} // namespace loopwalk::protection
