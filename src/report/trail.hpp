// The way of the current from the source to a point: cables one after the other, and closed loops
// that it passes with all their branches at once.
#pragma once

#include "loopwalk/network/network.hpp"
#include "loopwalk/trace/block.hpp"

#include <vector>

namespace loopwalk::report {

/// One edge of the network that all of the current passes.
struct Step {
    base::EdgeId edge;
    base::VertexId from, to;
};

/// A closed loop, from its gate or the supply's terminals to where the way leaves it.
struct LoopStep {
    trace::Block block;
    trace::LocalVertex exit = trace::kNoVertex;
};

struct Trail {
    base::InfeedId infeed;
    base::VertexId end;
    std::vector<Step> steps;          ///< from the source on
    std::vector<LoopStep> loop_steps; ///< likewise
    bool is_one_supply = true;        ///< no other supply feeds the same network
};

/// Precondition: a source feeds the vertex.
[[nodiscard]] Trail find_trail(const network::Network& network, const trace::Trace& trace,
                               base::VertexId vertex);

} // namespace loopwalk::report
