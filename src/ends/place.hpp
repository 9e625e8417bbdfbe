// An asset and what feeds it, as the ends of its cables are asked for.
#pragma once

#include "loopwalk/ends/cable_ends.hpp"

namespace loopwalk::ends {

struct CableEnds::Place {
    NodeId node;
    network::NodeKind kind{};
    std::uint32_t asset = 0;
    ComponentId component; ///< its own; invalid at a source and where nothing feeds it
    InfeedId infeed;       ///< of the component; of several the one its figures start from
    base::WayId way;       ///< nearest upstream; invalid on a main, at a source and without a feed
};

} // namespace loopwalk::ends
