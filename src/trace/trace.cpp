#include "loopwalk/trace/trace.hpp"

#include "loopwalk/network/csr.hpp"

#include <algorithm>
#include <set>

namespace loopwalk::trace {
namespace {

using network::Csr;
using network::Network;

constexpr std::uint32_t kUnseen = 0xffffffffU;

VertexId vertex_id(std::uint32_t v) {
    return VertexId(v);
}

/// One step of a depth-first search: a vertex and its next arc.
struct Frame {
    std::uint32_t vertex;
    boost::graph_traits<Csr>::out_edge_iterator next, end;
};

/// Depth-first search that finds, for each component, an order with parents first and every edge
/// that lies on a closed loop. All infeeds of a component count as one vertex for that: the ways of
/// a supply meet at its busbar. A step back over the very edge it came by is no loop; over a
/// parallel edge it is. (boost::biconnected_components cannot tell parallel edges apart.)
class Explorer {
  public:
    Explorer(const Network& net, Trace& trace) : m_net(net), m_csr(net.graph->csr), m_trace(trace) {
        const std::size_t vertices = net.vertex_node.size();
        trace.parent.resize(vertices);
        trace.parent_edge.resize(vertices);
        trace.component_of.resize(vertices);
        trace.looped.resize(net.edge_count());
        trace.clean.resize(vertices);
        trace.order.reserve(vertices);
        m_found.assign(vertices, kUnseen);
        m_low.assign(vertices, 0);
        m_is_infeed.assign(vertices, false);
        for (const network::Infeed& infeed : net.infeeds) {
            m_is_infeed[infeed.vertex.index()] = true;
        }
    }

    void explore_from(VertexId start) {
        if (m_found[start.index()] != kUnseen) {
            return;
        }
        Component component;
        component.first = static_cast<std::uint32_t>(m_trace.order.size());
        discover(static_cast<std::uint32_t>(start.index()));
        while (!m_stack.empty()) {
            step();
        }
        component.count = static_cast<std::uint32_t>(m_trace.order.size()) - component.first;
        m_trace.components.push_back(component);
    }

    [[nodiscard]] bool has_edges(VertexId v) const {
        return boost::out_degree(static_cast<std::uint32_t>(v.index()), m_csr) > 0;
    }

  private:
    /// Number given to the vertex that all infeeds of the component are merged into.
    static constexpr std::uint32_t kMergedInfeeds = 0;

    void discover(std::uint32_t v) {
        m_found[v] = ++m_clock;
        m_low[v] = m_is_infeed[v] ? kMergedInfeeds : m_found[v];
        m_trace.component_of[v] = base::ComponentId(m_trace.components.size());
        m_trace.order.push_back(vertex_id(v));
        const auto [begin, end] = boost::out_edges(v, m_csr);
        m_stack.push_back({v, begin, end});
    }

    void step() {
        Frame& frame = m_stack.back();
        if (frame.next == frame.end) {
            finish();
            return;
        }
        const auto arc = *frame.next++;
        const std::uint32_t edge = m_csr[arc].edge;
        const std::uint32_t to = boost::target(arc, m_csr);
        const std::uint32_t from = frame.vertex;
        if (m_found[to] == kUnseen) {
            m_trace.parent[to] = vertex_id(from);
            m_trace.parent_edge[to] = EdgeId(edge);
            discover(to);
        } else if (m_trace.parent_edge[from] != EdgeId(edge) &&
                   m_trace.parent_edge[to] != EdgeId(edge)) {
            m_trace.looped[edge] = 1; // an edge outside the tree closes a loop
            m_low[from] = std::min(m_low[from], m_found[to]);
        }
    }

    void finish() {
        const std::uint32_t v = m_stack.back().vertex;
        m_stack.pop_back();
        if (m_stack.empty()) {
            return;
        }
        const std::uint32_t parent = m_stack.back().vertex;
        m_low[parent] = std::min(m_low[parent], m_low[v]);
        if (m_low[v] < m_found[v]) { // reaches above itself without its tree edge
            m_trace.looped[m_trace.parent_edge[v].index()] = 1;
        }
    }

    const Network& m_net;
    const Csr& m_csr;
    Trace& m_trace;
    std::vector<std::uint32_t> m_found, m_low;
    std::vector<bool> m_is_infeed;
    std::vector<Frame> m_stack;
    std::uint32_t m_clock = 0;
};

/// Infeeds of each component, and what they make of it.
void attach_infeeds(const Network& net, Trace& trace) {
    std::vector<std::vector<InfeedId>> infeeds(trace.components.size());
    for (std::size_t r = 0; r < net.infeeds.size(); ++r) {
        infeeds[trace.component_of[net.infeeds[r].vertex.index()].index()].push_back(InfeedId(r));
    }
    for (std::size_t c = 0; c < infeeds.size(); ++c) {
        Component& component = trace.components[c];
        component.first_infeed = static_cast<std::uint32_t>(trace.infeeds.size());
        component.infeed_count = static_cast<std::uint32_t>(infeeds[c].size());
        trace.infeeds.insert(trace.infeeds.end(), infeeds[c].begin(), infeeds[c].end());
    }
}

/// Supplies and mains that feed a component.
std::size_t count_sources(const Network& net, const Trace& trace, const Component& component) {
    std::set<network::Origin> sources;
    for (const InfeedId infeed : trace.infeeds_of(component)) {
        sources.insert(net.origin_of(infeed));
    }
    return sources.size();
}

void classify(const Network& net, Trace& trace) {
    for (Component& component : trace.components) {
        if (component.infeed_count == 0) {
            component.feeding = Feeding::none;
        } else if (component.infeed_count == 1) {
            component.feeding = Feeding::one;
        } else {
            component.feeding =
                count_sources(net, trace, component) > 1 ? Feeding::several : Feeding::ring;
        }
    }
}

/// Loops by Euler's formula: edges - vertices + 1, and one more for each further way of a supply
/// that the component joins (the loop closes over the busbar).
void count_loops_and_columns(const Network& net, Trace& trace) {
    std::vector<std::uint32_t> edges(trace.components.size(), 0);
    const auto count_edge = [&](VertexId v) {
        if (v.is_valid()) {
            ++edges[trace.component_of[v.index()].index()];
        }
    };
    std::ranges::for_each(net.section_from, count_edge);
    for (const network::Link& link : net.links) {
        count_edge(link.a);
    }
    for (std::size_t c = 0; c < trace.components.size(); ++c) {
        Component& component = trace.components[c];
        component.loops = edges[c] + 1 - component.count;
        if (component.infeed_count > 1) {
            component.loops += component.infeed_count -
                               static_cast<std::uint32_t>(count_sources(net, trace, component));
        }
        for (const VertexId v : trace.vertices(component)) {
            const base::NodeId node = net.node_of(v);
            const bool is_column =
                v.index() == node.index() && // each column once
                net.snapped.nodes[node.index()].kind == network::NodeKind::column;
            component.columns += is_column ? 1 : 0;
        }
    }
}

/// Vertices whose figures follow from one path: one infeed, and no loop on the way.
void mark_clean(Trace& trace) {
    for (const Component& component : trace.components) {
        if (component.feeding != Feeding::one) {
            continue;
        }
        for (const VertexId v : trace.vertices(component)) {
            const VertexId parent = trace.parent[v.index()];
            const bool clean =
                !parent.is_valid() || (trace.clean[parent.index()] != 0 &&
                                       trace.looped[trace.parent_edge[v.index()].index()] == 0);
            trace.clean[v.index()] = clean ? 1 : 0;
        }
    }
}

} // namespace

Trace trace(const model::Layers& /*layers*/, const Network& network, base::Progress& progress) {
    progress.stage("trace", network.vertex_node.size());
    Trace result;
    Explorer explorer(network, result);
    for (const network::Infeed& infeed : network.infeeds) {
        explorer.explore_from(infeed.vertex);
    }
    for (std::size_t v = 0; v < network.vertex_node.size(); ++v) {
        if (explorer.has_edges(VertexId(v))) {
            explorer.explore_from(VertexId(v));
        }
        progress.step(v);
    }
    attach_infeeds(network, result);
    classify(network, result);
    count_loops_and_columns(network, result);
    mark_clean(result);
    return result;
}

VertexId column_vertex(const Network& network, const Trace& trace, base::ColumnId column) {
    const base::NodeId node = network.snapped.column_node[column.index()];
    if (!node.is_valid()) {
        return {};
    }
    const VertexId loop_side(node.index());
    if (network.fused_side.empty() || !network.fused_side[column.index()].is_valid()) {
        return loop_side;
    }
    // Fed from its fused side: the loop side then comes after it.
    const VertexId fused = network.fused_side[column.index()];
    return trace.parent[loop_side.index()] == fused ? fused : loop_side;
}

const Component* fed_component(const Network& network, const Trace& trace, base::ColumnId column) {
    const VertexId v = column_vertex(network, trace, column);
    const Component* component = v.is_valid() ? trace.find(v) : nullptr;
    return component != nullptr && component->infeed_count > 0 ? component : nullptr;
}

} // namespace loopwalk::trace
