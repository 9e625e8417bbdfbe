#include "joined.hpp"

#include "loopwalk/network/csr.hpp"

#include <boost/range/iterator_range.hpp>

#include <algorithm>
#include <queue>
#include <tuple>
#include <unordered_map>

namespace loopwalk::trace {
namespace {

/// How far a vertex is from its nearest infeed, and whose that infeed is.
struct Reach {
    double metres = 0.0;
    std::uint32_t group = 0;
};

using Territory = std::unordered_map<std::uint32_t, Reach>;

/// Dijkstra from all infeeds at once, over the vertices of one component.
Territory territories(const model::Layers& layers, const network::Network& net, const Trace& trace,
                      const Component& component,
                      const std::function<std::uint32_t(InfeedId)>& group_of) {
    using Entry = std::tuple<double, std::uint32_t, std::uint32_t>; // metres, group, vertex
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
    for (const InfeedId r : trace.infeeds_of(component)) {
        const std::size_t vertex = net.infeeds[r.index()].vertex.index();
        queue.emplace(0.0, group_of(r), static_cast<std::uint32_t>(vertex));
    }
    const network::Csr& csr = net.graph->csr;
    Territory reached;
    while (!queue.empty()) {
        const auto [metres, group, vertex] = queue.top();
        queue.pop();
        if (!reached.try_emplace(vertex, Reach{metres, group}).second) {
            continue;
        }
        for (const auto& arc : boost::make_iterator_range(boost::out_edges(vertex, csr))) {
            const EdgeId edge(csr[arc].edge);
            const double length =
                net.is_section(edge)
                    ? section_length(layers, net.snapped.sections[edge.index()]).value()
                    : 0.0;
            const auto to = static_cast<std::uint32_t>(boost::target(arc, csr));
            if (!reached.contains(to)) {
                queue.emplace(metres + length, group, to);
            }
        }
    }
    return reached;
}

} // namespace

std::vector<base::SectionId>
meeting_sections(const model::Layers& layers, const network::Network& network, const Trace& trace,
                 const Component& component,
                 const std::function<std::uint32_t(InfeedId)>& group_of) {
    const Territory reached = territories(layers, network, trace, component, group_of);
    const network::Csr& csr = network.graph->csr;
    std::vector<base::SectionId> found;
    for (const VertexId v : trace.vertices(component)) {
        const auto from = static_cast<std::uint32_t>(v.index());
        for (const auto& arc : boost::make_iterator_range(boost::out_edges(from, csr))) {
            const EdgeId edge(csr[arc].edge);
            const auto to = static_cast<std::uint32_t>(boost::target(arc, csr));
            if (network.is_section(edge) && reached.at(from).group != reached.at(to).group) {
                found.emplace_back(edge.index());
            }
        }
    }
    std::ranges::sort(found);
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
}

} // namespace loopwalk::trace
