// Which places have no supply without which other one.
#pragma once

#include "supply_graph.hpp"

namespace loopwalk::outage {

struct Cuts {
    /// By node: the nearest place on every path to it; kNoPlace for the source and for what has no
    /// supply.
    std::vector<PlaceNode> above;
    std::vector<PlaceNode> order; ///< nodes that have supply; `above` of a node stands before it
    std::vector<std::uint8_t> is_looped; ///< by node: fed from two sides where it lies

    [[nodiscard]] bool has_supply(PlaceNode node) const {
        return node == kSource || above[node] != kNoPlace;
    }
};

/// By one depth-first search, with a few places taken out. In a graph without
/// direction the places on every path to a node are the points of articulation before it: a search
/// finds them by the earliest node that what is found below one can reach otherwise.
/// Cost: linear in places.
[[nodiscard]] Cuts find_cuts(const SupplyGraph& graph, std::span<const PlaceNode> lost = {});

} // namespace loopwalk::outage
