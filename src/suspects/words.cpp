// Suspects for people: names of places, and the finding.
#include "loopwalk/base/text.hpp"
#include "loopwalk/suspects/suspects.hpp"

#include <algorithm>

namespace loopwalk::suspects {
namespace {

using base::AssetLayer;
using network::Node;
using network::NodeKind;

const network::Section& section_of(const checks::ReviewInput& in, base::EdgeId edge) {
    return in.network.snapped.sections[edge.index()];
}

const Node& node_at(const checks::ReviewInput& in, base::NodeId id) {
    return in.network.snapped.nodes[id.index()];
}

/// The node of a place farther from the supply.
const Node& far_node(const checks::ReviewInput& in, const Place& place) {
    if (!place.edge.is_valid()) {
        return node_at(in, in.network.snapped.column_node[place.column.index()]);
    }
    if (!in.network.is_section(place.edge)) {
        return node_at(in, in.network.node_of(in.network.link(place.edge).b));
    }
    const network::Section& section = section_of(in, place.edge);
    const bool is_reversed = in.figures.sections[place.edge.index()].is_reversed;
    return node_at(in, is_reversed ? section.from : section.to);
}

std::string text_of_place(const checks::ReviewInput& in, const Place& place) {
    const std::string far = network::node_name(in.layers, far_node(in, place));
    if (!place.edge.is_valid()) {
        return "cut-out or tail of column " + far;
    }
    if (!in.network.is_section(place.edge)) {
        const bool is_cut_out = in.network.link(place.edge).kind == network::LinkKind::cut_out;
        return (is_cut_out ? "cut-out of column " : "busbar of section pillar ") + far;
    }
    const network::Section& section = section_of(in, place.edge);
    const bool is_reversed = in.figures.sections[place.edge.index()].is_reversed;
    const Node& near = node_at(in, is_reversed ? section.to : section.from);
    return "cable " + in.layers.id_text(in.layers.cables[section.cable.index()].id) + " from " +
           network::node_name(in.layers, near) + " to " + far + " with its ends";
}

std::string ohms_text(const Explanation& one) {
    return base::short_text(one.extra.value(), 2) + " ohm (" +
           base::short_text(one.low.value(), 2) + " to " + base::short_text(one.high.value(), 2) +
           ")";
}

base::Finding finding_of(const checks::ReviewInput& in, const checks::Explainer& explainer,
                         const Suspect& suspect) {
    base::Finding f = base::finding_of(base::Rule::suspect_termination);
    const PlaceRecord record = record_of(in, suspect.places.front());
    f.layer = record.layer;
    f.asset_id = record.asset_id;
    f.place = far_node(in, suspect.places.front()).place;
    f.supply_id = explainer.supply_name(suspect.infeed);
    f.way = explainer.way_name(suspect.infeed);
    f.value = suspect.explanation.extra.value();
    f.message = "Test readings of this way are best explained by " +
                ohms_text(suspect.explanation) + " too much in: " + text_of(in, suspect) + ".";
    f.fix = "Look at its glands, clamps and joints; the layer `suspects` has the others.";
    if (suspect.next_reading.is_valid()) {
        f.fix += " A reading at column " +
                 in.layers.id_text(in.layers.columns[suspect.next_reading.index()].id) +
                 " tells most.";
    }
    return f;
}

} // namespace

std::string text_of(const checks::ReviewInput& input, const Suspect& suspect) {
    std::string text;
    for (const Place& place : suspect.places) {
        text += (text.empty() ? "" : "; or ") + text_of_place(input, place);
    }
    return text;
}

PlaceRecord record_of(const checks::ReviewInput& input, const Place& place) {
    const model::Layers& layers = input.layers;
    if (place.edge.is_valid() && input.network.is_section(place.edge)) {
        std::string cable =
            layers.id_text(layers.cables[section_of(input, place.edge).cable.index()].id);
        return {AssetLayer::cables, cable, cable};
    }
    const Node& node = far_node(input, place);
    if (node.kind == NodeKind::supply) {
        return {AssetLayer::supplies, layers.id_text(layers.supplies[node.asset].id), {}};
    }
    return {AssetLayer::columns, layers.id_text(layers.columns[node.asset].id), {}};
}

void report(const checks::ReviewInput& input, const std::vector<Suspect>& suspects,
            base::FindingSink& findings) {
    const checks::Explainer explainer(input.layers, input.catalogue, input.network, input.trace,
                                      input.figures);
    for (const Suspect& suspect : suspects) {
        if (suspect.rank == 1 && suspect.of_readings > 1) {
            findings.add(finding_of(input, explainer, suspect));
        }
    }
}

} // namespace loopwalk::suspects
