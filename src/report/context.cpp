#include "context.hpp"

#include "loopwalk/base/error.hpp"

#include <algorithm>

namespace loopwalk::report {

Context::Context(const output::Results& r, assess::Judge& j)
    : results(r), judge(j), explain(r.layers(), r.catalogue, r.network, r.trace, r.figures),
      ohms(r.layers(), r.catalogue, r.job.rules, r.assumptions, r.network) {}

std::string Context::node_name(base::NodeId node) const {
    return network::node_name(layers(), net().snapped.nodes[node.index()]);
}

std::string Context::vertex_name(base::VertexId vertex) const {
    return node_name(net().node_of(vertex));
}

std::string Context::section_name(base::SectionId id) const {
    return text(cable_of(id).id) + "/" + std::to_string(section(id).number);
}

Trail Context::trail_to(base::VertexId vertex) const {
    const trace::Trace& trace = results.trace;
    Trail trail;
    trail.end = vertex;
    base::VertexId at = vertex;
    for (; trace.parent[at.index()].is_valid(); at = trace.parent[at.index()]) {
        trail.steps.push_back({trace.parent_edge[at.index()], trace.parent[at.index()], at});
    }
    std::ranges::reverse(trail.steps);
    const trace::Component* component = trace.find(vertex);
    LW_ASSERT(component != nullptr && component->root_count > 0);
    trail.root = trace.roots_of(*component)[0];
    return trail;
}

std::vector<base::SectionId> Context::sections_of(const Trail& trail) const {
    std::vector<base::SectionId> sections;
    for (const Step& step : trail.steps) {
        if (net().is_section(step.edge)) {
            sections.emplace_back(step.edge.index());
        }
    }
    return sections;
}

const assess::Source* Context::source_of(base::RootId root) const {
    const base::WayId way = net().roots[root.index()].way;
    return way.is_valid() ? &results.figures.sources[net().ways[way.index()].supply.index()]
                          : nullptr;
}

const model::Supply& Context::supply_of(base::RootId root) const {
    const base::WayId way = net().roots[root.index()].way;
    LW_ASSERT(way.is_valid());
    return layers().supplies[net().ways[way.index()].supply.index()];
}

std::string basis_text(model::Basis basis) {
    switch (basis) {
    case model::Basis::measured:
        return "measured";
    case model::Basis::declared:
        return "declared";
    case model::Basis::assumed:
        return "assumed";
    }
    return "";
}

std::string verdict_text(assess::Verdict verdict) {
    switch (verdict) {
    case assess::Verdict::fails:
        return "predicted not to meet (fails)";
    case assess::Verdict::undecided:
        return "cannot be judged (undecided)";
    case assess::Verdict::meets:
        return "predicted to meet (meets)";
    case assess::Verdict::not_traced:
        return "not traced: no source was found in the records, treat as live";
    case assess::Verdict::not_ours:
        return "not ours: the distributor's equipment, ask the distributor";
    case assess::Verdict::none:
        return "nothing to judge";
    }
    return "";
}

} // namespace loopwalk::report
