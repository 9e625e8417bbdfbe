#include "trail.hpp"

#include "loopwalk/base/error.hpp"

#include <algorithm>

namespace loopwalk::report {

Trail find_trail(const network::Network& network, const trace::Trace& trace,
                 base::VertexId vertex) {
    const trace::Component* component = trace.find(vertex);
    LW_ASSERT(component != nullptr && component->infeed_count > 0);
    trace::BlockFinder finder(network, trace);
    std::vector<trace::Block> blocks;
    if (component->loops > 0 || component->infeed_count > 1) {
        blocks = finder.blocks_of(*component);
    }
    Trail trail;
    trail.infeed = trace.infeeds_of(*component)[0];
    trail.end = vertex;
    trail.is_one_supply = component->feeding != trace::Feeding::several;
    base::VertexId at = vertex;
    while (true) {
        const std::uint32_t number =
            blocks.empty() ? trace::BlockFinder::kNone : finder.block_of(at);
        if (number != trace::BlockFinder::kNone && blocks[number].gate != at) {
            trail.loop_steps.push_back({blocks[number], finder.local(at)});
            if (!blocks[number].has_gate()) {
                break;
            }
            at = blocks[number].gate;
            continue;
        }
        const base::VertexId parent = trace.parent[at.index()];
        if (!parent.is_valid()) {
            break;
        }
        trail.steps.push_back({trace.parent_edge[at.index()], parent, at});
        at = parent;
    }
    std::ranges::reverse(trail.steps);
    std::ranges::reverse(trail.loop_steps);
    return trail;
}

} // namespace loopwalk::report
