#include "loopwalk/trace/block.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/network/csr.hpp"

#include <boost/range/iterator_range.hpp>

#include <algorithm>
#include <map>
#include <utility>

namespace loopwalk::trace {
namespace {

using base::EdgeId;
using network::NodeKind;

std::uint32_t number_of(VertexId v) {
    return static_cast<std::uint32_t>(v.index());
}

LocalVertex add_vertex(Block& block, VertexId v) {
    block.vertices.push_back(v);
    return static_cast<LocalVertex>(block.vertices.size() - 1);
}

} // namespace

BlockFinder::BlockFinder(const network::Network& network, const Trace& trace)
    : m_net(network), m_trace(trace), m_looped(network.vertex_node.size()),
      m_block(network.vertex_node.size(), kNone), m_local(network.vertex_node.size(), kNoVertex) {}

std::vector<Block> BlockFinder::blocks_of(const Component& component) {
    std::vector<Block> blocks;
    join_looped(component);
    number_vertices(component, blocks);
    add_edges(component, blocks);
    if (component.infeed_count > 1) {
        add_infeeds(component, blocks);
    }
    for (Block& block : blocks) {
        if (block.has_gate()) {
            block.terminals.push_back({local(block.gate), {}});
        }
        split_fused_joints(block);
    }
    return blocks;
}

/// Marks what lies on a loop and joins it; one infeed is as good as all.
void BlockFinder::join_looped(const Component& component) {
    const auto join = [this](VertexId a, VertexId b) { m_looped.join(number_of(a), number_of(b)); };
    const network::Csr& csr = m_net.graph->csr;
    for (const VertexId v : m_trace.vertices(component)) {
        for (const auto& arc : boost::make_iterator_range(boost::out_edges(number_of(v), csr))) {
            if (m_trace.looped[csr[arc].edge] != 0) {
                join(v, VertexId(boost::target(arc, csr)));
                m_block[v.index()] = 0; // its number follows
            }
        }
    }
    for (const InfeedId r : m_trace.infeeds_of(component)) {
        const VertexId first = m_net.infeeds[m_trace.infeeds_of(component)[0].index()].vertex;
        if (component.infeed_count > 1) {
            join(m_net.infeeds[r.index()].vertex, first);
            m_block[m_net.infeeds[r.index()].vertex.index()] = 0;
        }
    }
}

void BlockFinder::number_vertices(const Component& component, std::vector<Block>& blocks) {
    std::map<std::uint32_t, std::uint32_t> numbers;
    for (const VertexId v : m_trace.vertices(component)) {
        if (m_block[v.index()] == kNone) {
            continue;
        }
        const auto [at, is_new] = numbers.try_emplace(m_looped.find(number_of(v)),
                                                      static_cast<std::uint32_t>(blocks.size()));
        if (is_new) {
            blocks.emplace_back();
            blocks.back().gate = v;
        }
        m_block[v.index()] = at->second;
        m_local[v.index()] = add_vertex(blocks[at->second], v);
    }
}

void BlockFinder::add_edges(const Component& component, std::vector<Block>& blocks) {
    const network::Csr& csr = m_net.graph->csr;
    std::vector<EdgeId> edges;
    for (const VertexId v : m_trace.vertices(component)) {
        for (const auto& arc : boost::make_iterator_range(boost::out_edges(number_of(v), csr))) {
            if (m_trace.looped[csr[arc].edge] != 0) {
                edges.emplace_back(csr[arc].edge);
            }
        }
    }
    std::ranges::sort(edges);
    edges.erase(std::unique(edges.begin(), edges.end()), edges.end());
    for (const EdgeId edge : edges) {
        if (m_net.is_section(edge)) {
            const VertexId from = m_net.section_from[edge.index()];
            blocks[block_of(from)].sections.push_back({base::SectionId(edge.index()), local(from),
                                                       local(m_net.section_to[edge.index()])});
        } else {
            const network::Link& link = m_net.link(edge);
            blocks[block_of(link.a)].links.push_back({local(link.a), local(link.b), link.device});
        }
    }
}

/// The terminals of each supply as a vertex of its own, behind the device of each way.
void BlockFinder::add_infeeds(const Component& component, std::vector<Block>& blocks) {
    Block& block = blocks[block_of(m_net.infeeds[m_trace.infeeds_of(component)[0].index()].vertex)];
    block.gate = {};
    for (const InfeedId r : m_trace.infeeds_of(component)) {
        const VertexId at = m_net.vertex_of(r);
        const auto supply = m_net.supply_of(r);
        const auto same = std::ranges::find_if(block.terminals, [&](const Block::Terminal& t) {
            return supply.has_value() && m_net.supply_of(t.infeed) == supply;
        });
        LocalVertex terminal = kNoVertex;
        if (same != block.terminals.end()) {
            terminal = same->vertex;
        } else {
            terminal = add_vertex(block, at);
            block.terminals.push_back({terminal, r});
        }
        block.links.push_back({terminal, local(at), m_net.device_of(r)});
    }
}

/// A fuse in a joint stands between its two cables. With more than two nobody can tell which lie
/// behind it: then it protects nothing here. Where the block hangs from the joint, all of it does.
void BlockFinder::split_fused_joints(Block& block) const {
    const auto count = static_cast<LocalVertex>(block.vertices.size());
    for (LocalVertex v = 0; v < count; ++v) {
        const VertexId vertex = block.vertices[v];
        const network::Node& node = m_net.snapped.nodes[m_net.node_of(vertex).index()];
        if (vertex == block.gate || node.kind != NodeKind::joint ||
            !m_net.joint_device[node.asset].is_valid()) {
            continue;
        }
        if (boost::out_degree(number_of(vertex), m_net.graph->csr) == 2) {
            split(block, v, m_net.joint_device[node.asset]);
        } else {
            block.unclear_joints.push_back(vertex);
        }
    }
}

void BlockFinder::split(Block& block, LocalVertex joint, base::DeviceId device) {
    const auto behind = add_vertex(block, block.vertices[joint]);
    bool is_first = true;
    for (Block::Section& section : block.sections) {
        for (LocalVertex* end : {&section.a, &section.b}) {
            if (*end == joint && !std::exchange(is_first, false)) {
                *end = behind;
            }
        }
    }
    block.links.push_back({joint, behind, device});
}

} // namespace loopwalk::trace
