#include "context.hpp"

#include "loopwalk/base/error.hpp"

namespace loopwalk::report {

Context::Context(const output::Results& r, protection::Judge& j)
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

std::vector<base::SectionId> Context::sections_of(const Trail& trail) const {
    std::vector<base::SectionId> sections;
    for (const Step& step : trail.steps) {
        if (net().is_section(step.edge)) {
            sections.emplace_back(step.edge.index());
        }
    }
    return sections;
}

const trace::Component& Context::component_of(base::VertexId vertex) const {
    const trace::Component* component = results.trace.find(vertex);
    if (component == nullptr) {
        throw base::InternalError("a vertex outside the network has no component");
    }
    return *component;
}

bool Context::is_three_phase(base::InfeedId infeed) const {
    return figures::is_three_phase(layers(), net(), results.figures.sources, infeed);
}

std::string verdict_text(protection::Verdict verdict) {
    switch (verdict) {
    case protection::Verdict::fails:
        return "predicted not to meet (fails)";
    case protection::Verdict::undecided:
        return "cannot be judged (undecided)";
    case protection::Verdict::meets:
        return "predicted to meet (meets)";
    case protection::Verdict::not_traced:
        return "not traced: no source was found in the records, treat as live";
    case protection::Verdict::not_ours:
        return "not ours: the distributor's equipment, ask the distributor";
    case protection::Verdict::none:
        return "nothing to judge";
    }
    return "";
}

} // namespace loopwalk::report
