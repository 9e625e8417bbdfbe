// Networks by hand, without snapping: vertices 0, 1, ... , edges between them, infeeds at vertices.
#pragma once

#include "loopwalk/network/csr.hpp"
#include "loopwalk/trace/trace.hpp"

#include <cstdint>
#include <memory>
#include <utility>
#include <vector>

namespace loopwalk::trace {

/// An edge from vertex to vertex; the same pair may come several times, or a vertex with itself.
using Pair = std::pair<std::uint32_t, std::uint32_t>;

class GraphBuilder {
  public:
    explicit GraphBuilder(std::uint32_t vertices) {
        m_net.snapped.nodes.resize(vertices, {.kind = network::NodeKind::derived,
                                              .asset = 0,
                                              .place = {},
                                              .named_by = {},
                                              .named_at_m = 0.0});
        for (std::uint32_t v = 0; v < vertices; ++v) {
            m_net.vertex_node.emplace_back(v);
        }
    }

    /// A way of a supply starts at a vertex.
    GraphBuilder& infeed(std::uint32_t vertex, std::uint32_t supply = 0) {
        m_net.infeeds.push_back({network::VertexId(vertex), network::WayId(m_net.ways.size())});
        network::Way way{};
        way.supply = SupplyId(supply);
        way.vertex = network::VertexId(vertex);
        m_net.ways.push_back(way);
        return *this;
    }

    network::Network finish(const std::vector<Pair>& edges) {
        std::vector<Pair> arcs;
        std::vector<network::EdgeIndex> index;
        for (std::uint32_t e = 0; e < edges.size(); ++e) {
            const auto [a, b] = edges[e];
            network::Section section{};
            section.from = base::NodeId(a);
            section.to = base::NodeId(b);
            m_net.snapped.sections.push_back(section);
            m_net.section_from.emplace_back(a);
            m_net.section_to.emplace_back(b);
            arcs.emplace_back(a, b);
            arcs.emplace_back(b, a);
            index.insert(index.end(), 2, network::EdgeIndex{e});
        }
        auto holder = std::make_shared<network::CsrHolder>();
        holder->csr =
            network::Csr(boost::edges_are_unsorted_multi_pass, arcs.begin(), arcs.end(),
                         index.begin(), static_cast<std::uint32_t>(m_net.vertex_node.size()));
        m_net.graph = std::move(holder);
        return std::move(m_net);
    }

  private:
    network::Network m_net;
};

[[nodiscard]] inline Trace traced(const network::Network& net) {
    base::NoProgress progress;
    return trace(model::Layers{}, net, progress);
}

} // namespace loopwalk::trace
