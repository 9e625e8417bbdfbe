#include "cuts.hpp"

#include <algorithm>

namespace loopwalk::outage {
namespace {

class Search {
  public:
    Search(const SupplyGraph& graph, std::span<const PlaceNode> lost)
        : m_graph(graph), m_lost(lost), m_found(graph.size()), m_earliest(graph.size()),
          m_parent(graph.size(), kNoPlace) {}

    Cuts run() {
        discover(kSource);
        while (!m_stack.empty()) {
            step();
        }
        m_cuts.above.assign(m_graph.size(), kNoPlace);
        m_cuts.is_looped.assign(m_graph.size(), 0);
        for (const PlaceNode node : m_cuts.order) {
            const PlaceNode parent = m_parent[node];
            if (parent == kNoPlace) {
                continue;
            }
            const bool is_cut_off = m_earliest[node] >= m_found[parent];
            m_cuts.above[node] = is_cut_off ? parent : m_cuts.above[parent];
            m_cuts.is_looped[node] = m_earliest[node] <= m_found[parent] ? 1 : 0;
        }
        return std::move(m_cuts);
    }

  private:
    struct Frame {
        PlaceNode node;
        std::uint32_t next, end;
        bool has_passed_parent; ///< a cable back to its own place is met twice
    };

    void discover(PlaceNode node) {
        m_found[node] = m_earliest[node] = ++m_clock;
        m_cuts.order.push_back(node);
        m_stack.push_back({node, m_graph.first[node], m_graph.first[node + 1], false});
    }

    void step() {
        Frame& frame = m_stack.back();
        const PlaceNode node = frame.node;
        if (frame.next == frame.end) {
            finish(node);
            return;
        }
        const PlaceNode to = m_graph.neighbours[frame.next++];
        if (std::ranges::find(m_lost, to) != m_lost.end()) {
            return;
        }
        if (to == m_parent[node] && !frame.has_passed_parent) {
            frame.has_passed_parent = true;
        } else if (m_found[to] != 0) {
            m_earliest[node] = std::min(m_earliest[node], m_found[to]);
        } else {
            m_parent[to] = node;
            discover(to);
        }
    }

    void finish(PlaceNode node) {
        m_stack.pop_back();
        if (!m_stack.empty()) {
            PlaceNode parent = m_stack.back().node;
            m_earliest[parent] = std::min(m_earliest[parent], m_earliest[node]);
        }
    }

    const SupplyGraph& m_graph;
    std::span<const PlaceNode> m_lost;
    std::vector<std::uint32_t> m_found, m_earliest; ///< by node; 0: not found
    std::vector<PlaceNode> m_parent;
    std::vector<Frame> m_stack;
    std::uint32_t m_clock = 0;
    Cuts m_cuts;
};

} // namespace

Cuts find_cuts(const SupplyGraph& graph, std::span<const PlaceNode> lost) {
    return Search(graph, lost).run();
}

} // namespace loopwalk::outage
