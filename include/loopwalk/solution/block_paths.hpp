// Paths into a looped block: what a path has at its gate or terminals, and what the block adds.
#pragma once

#include "loopwalk/solution/block_network.hpp"

namespace loopwalk::solution {

/// Paths of all vertices of a block, by local vertex. `starts`: the path to each terminal.
/// Impedances are driving-point impedances from the terminals together, or, where supplies are
/// joined, from the one that gives the highest hot loop alone. Metres and columns are counted over
/// the shortest way; what limits or is missing anywhere in the block counts for every vertex.
[[nodiscard]] std::vector<Path> paths_into(const BlockNetwork& network, const PathMaker& maker,
                                           const model::Layers& layers, const network::Network& net,
                                           const std::vector<Path>& starts);

} // namespace loopwalk::solution
