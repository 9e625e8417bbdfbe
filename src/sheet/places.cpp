#include "places.hpp"

#include <algorithm>
#include <unordered_map>
#include <unordered_set>

namespace loopwalk::sheet {
namespace {

using base::EdgeId;
using base::Metre;
using base::VertexId;
using output::Results;

Metre length_of(const Results& r, EdgeId edge) {
    return edge.is_valid() && r.network.is_section(edge)
               ? network::section_length(r.layers(), r.network.snapped.sections[edge.index()])
               : Metre(0.0);
}

/// Vertices from the source to `end`.
std::vector<VertexId> ancestors(const Results& r, VertexId end) {
    std::vector<VertexId> all;
    for (VertexId v = end; v.is_valid(); v = r.trace.parent[v.index()]) {
        all.push_back(v);
    }
    std::ranges::reverse(all);
    return all;
}

void add_stop(std::vector<Stop>& stops, base::NodeId node, Metre run) {
    if (stops.empty() || stops.back().node != node) {
        stops.push_back({node, run});
    }
}

} // namespace

std::vector<Stop> stops_to(const Results& r, VertexId end) {
    std::vector<Stop> stops;
    const trace::Component* component = end.is_valid() ? r.trace.find(end) : nullptr;
    if (component == nullptr || component->infeed_count == 0) {
        return stops;
    }
    Metre run(0.0);
    for (const VertexId v : ancestors(r, end)) {
        run = run + length_of(r, r.trace.parent_edge[v.index()]);
        add_stop(stops, r.network.node_of(v), run);
    }
    return stops;
}

std::vector<Stop> stops_behind(const Results& r, VertexId start) {
    std::vector<Stop> stops;
    const trace::Component* component = start.is_valid() ? r.trace.find(start) : nullptr;
    if (component == nullptr) {
        return stops;
    }
    std::vector<std::pair<VertexId, Metre>> open{{start, Metre(0.0)}};
    std::unordered_map<VertexId, std::vector<VertexId>> below;
    for (const VertexId v : r.trace.vertices(*component)) {
        if (r.trace.parent[v.index()].is_valid()) {
            below[r.trace.parent[v.index()]].push_back(v);
        }
    }
    std::unordered_set<base::NodeId> met{r.network.node_of(start)};
    while (!open.empty()) { // along one branch to its end, then the next
        const auto [at, run] = open.back();
        open.pop_back();
        const base::NodeId node = r.network.node_of(at);
        if (met.insert(node).second) {
            stops.push_back({node, run});
        }
        const auto found = below.find(at);
        if (found == below.end()) {
            continue;
        }
        for (auto v = found->second.rbegin(); v != found->second.rend(); ++v) {
            open.emplace_back(*v, run + length_of(r, r.trace.parent_edge[v->index()]));
        }
    }
    return stops;
}

bool is_simple(const Results& r, VertexId vertex) {
    const trace::Component* component = vertex.is_valid() ? r.trace.find(vertex) : nullptr;
    return component != nullptr && component->infeed_count == 1 && component->loops == 0;
}

std::vector<base::ColumnId> columns_in(const Results& r, const std::vector<Stop>& stops) {
    std::vector<base::ColumnId> columns;
    for (const Stop& stop : stops) {
        const network::Node& node = r.network.snapped.nodes[stop.node.index()];
        if (node.kind == network::NodeKind::column &&
            model::conducts(r.layers().columns[node.asset].status)) {
            columns.emplace_back(node.asset);
        }
    }
    return columns;
}

} // namespace loopwalk::sheet
