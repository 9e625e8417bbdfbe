#include "cable_finding.hpp"

namespace loopwalk::checks {

base::Finding cable_finding(const ReviewInput& input, base::CableId id, base::Rule rule,
                            base::Severity severity) {
    const model::Cable& cable = input.layers.cables[id.index()];
    base::Finding f;
    f.rule = rule;
    f.severity = severity;
    f.layer = base::AssetLayer::cables;
    f.asset_id = input.layers.id_text(cable.id);
    if (cable.part_count > 0) {
        f.place = input.layers.line(input.layers.parts[cable.first_part]).front();
    }
    return f;
}

base::Finding section_finding(const ReviewInput& input, const Explainer& explain,
                              base::SectionId id, base::Rule rule, base::Severity severity) {
    const network::Section& section = input.network.snapped.sections[id.index()];
    base::Finding f = cable_finding(input, section.cable, rule, severity);
    const base::InfeedId infeed = input.figures.sections[id.index()].infeed;
    if (infeed.is_valid()) {
        f.supply_id = explain.supply_name(infeed);
        f.way = explain.way_name(infeed);
    }
    return f;
}

bool is_councils(const ReviewInput& input, base::SectionId id) {
    const network::Section& section = input.network.snapped.sections[id.index()];
    return input.layers.cables[section.cable.index()].owner == model::Owner::council;
}

} // namespace loopwalk::checks
