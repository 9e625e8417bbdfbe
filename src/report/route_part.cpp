// The way from the supply, section by section, with the devices on it, and the lengths used.
#include "loopwalk/base/text.hpp"

#include "parts.hpp"

namespace loopwalk::report {
namespace {

using base::SectionId;
using network::LinkKind;
using network::NodeKind;

std::string device_text(const Context& c, base::DeviceId id) {
    if (!id.is_valid()) {
        return "nothing recorded";
    }
    const network::Device& device = c.net().devices[id.index()];
    return c.explain.device_name(id) + ": " + c.explain.fuse_text(device.fuse);
}

std::string device_names(const Context& c, SectionId id) {
    const auto devices = figures::devices_of(c.results.figures, id);
    return devices.empty() ? "-" : c.explain.device_names(devices);
}

/// What the current passes besides cable: ways of section pillars and cut-outs that feed on.
void add_links(const Context& c, const Trail& trail, std::vector<std::string>& items) {
    for (const Step& step : trail.steps) {
        if (c.net().is_section(step.edge)) {
            continue;
        }
        const network::Link& link = c.net().link(step.edge);
        const std::string at = c.vertex_name(step.to);
        items.push_back(link.kind == LinkKind::busbar
                            ? "It passes section pillar " + at + " by way " +
                                  c.text(c.net().ways[link.way.index()].name) + " (" +
                                  device_text(c, link.device) + ")."
                            : "It passes the cut-out of column " + at + " (" +
                                  device_text(c, link.device) + ").");
    }
    for (const Step& step : trail.steps) {
        const network::Node& node = c.net().snapped.nodes[c.net().node_of(step.from).index()];
        if (node.kind == NodeKind::joint && c.net().joint_device[node.asset].is_valid()) {
            items.push_back("It passes a fused joint, " +
                            device_text(c, c.net().joint_device[node.asset]) + ".");
        }
    }
}

/// Other ways that feed the same network.
std::string joined_text(const Context& c, const Trail& trail) {
    std::vector<std::string> names;
    const trace::Component& component = c.component_of(trail.end);
    for (const base::InfeedId infeed : c.results.trace.infeeds_of(component)) {
        if (infeed != trail.infeed && c.net().way_of(infeed).has_value()) {
            names.push_back(c.explain.supply_name(infeed) + "/" + c.explain.way_name(infeed));
        }
    }
    return names.empty() ? "" : "Cables join it with " + base::listed(names, names.size()) + ".";
}

std::string infeed_text(const Context& c, const Trail& trail) {
    if (const auto main = c.net().main_of(trail.infeed)) {
        return "Fed from the distributor's main " + c.text(c.layers().mains[main->index()].id) +
               ".";
    }
    return "Fed from supply " + c.explain.supply_name(trail.infeed) + ", way " +
           c.explain.way_name(trail.infeed) + " (" +
           device_text(c, c.net().device_of(trail.infeed)) + ").";
}

} // namespace

std::string protection_text(const Context& c, const std::vector<base::DeviceId>& devices) {
    std::vector<std::string> names;
    names.reserve(devices.size());
    for (const base::DeviceId id : devices) {
        names.push_back(device_text(c, id));
    }
    return names.empty() ? "nothing recorded" : base::listed(names, names.size());
}

void write_route(Context& c, const Trail& trail, const std::string& at_end) {
    c.page.heading("Where it is fed from");
    std::vector<std::string> items{infeed_text(c, trail)};
    add_links(c, trail, items);
    if (const std::string joined = joined_text(c, trail); !joined.empty()) {
        items.push_back(joined);
    }
    if (!trail.loop_steps.empty()) {
        items.push_back(std::string("Closed loops lie on the way; ") +
                        (can_work_loops(c, trail) ? "they are worked" : "their bounds are given") +
                        " below. The table has what all of the current passes.");
    }
    items.push_back("What protects this point: " + at_end + ".");
    c.page.add(Bullets{items});
    Table table{
        {{"no", Align::number}, {"section"}, {"from"}, {"to"}, {"cable type"}, {"protected by"}},
        {}};
    std::size_t number = 0;
    for (const Step& step : trail.steps) {
        if (!c.net().is_section(step.edge)) {
            continue;
        }
        const SectionId id(step.edge.index());
        table.rows.push_back({std::to_string(++number), c.section_name(id),
                              c.vertex_name(step.from), c.vertex_name(step.to),
                              type_name(c, type_of(c, id)), device_names(c, id)});
    }
    c.page.add(std::move(table));
}

void write_length_rule(Context& c) {
    c.page.heading("Lengths used, m");
    const config::Rules& rules = c.rules();
    const auto& range = c.results.assumptions.cable_length;
    std::string text = "Where a cable's length is laid down in the records (laid), the section has "
                       "its share of it: laid * drawn / cable drawn. Elsewhere ";
    text += range.has_value()
                ? "the job's range holds for the whole cable, " + written(range->low.value()) +
                      " to " + written(range->high.value()) + ", shared in the same way."
                : "low = drawn, and high = drawn * " + written(rules.drawn_length_factor) + " + " +
                      written(rules.drawn_end_allowance.value()) +
                      " for each end at a column, pillar or joint.";
    c.page.paragraph(text);
}

void write_lengths(Context& c, const std::vector<SectionId>& sections, std::size_t first) {
    Table table{{{"no", Align::number},
                 {"drawn", Align::number},
                 {"cable drawn", Align::number},
                 {"laid", Align::number},
                 {"ends", Align::number},
                 {"low", Align::number},
                 {"high", Align::number}},
                {}};
    std::size_t number = first;
    for (const SectionId id : sections) {
        const network::Section& section = c.section(id);
        const model::Cable& cable = c.cable_of(id);
        double drawn = 0.0;
        for (const model::Part& part : c.layers().parts_of(cable)) {
            drawn += part.drawn.value();
        }
        int ends = 0;
        for (const base::NodeId node : {section.from, section.to}) {
            ends += c.net().snapped.nodes[node.index()].kind == NodeKind::derived ? 0 : 1;
        }
        const auto length = c.ohms.length(id);
        table.rows.push_back(
            {std::to_string(number++), written(section.drawn.value()), written(drawn),
             cable.laid.has_value() ? written((*cable.laid).value()) : "-", std::to_string(ends),
             written(length.low.value()), written(length.high.value())});
    }
    c.page.add(std::move(table));
}

} // namespace loopwalk::report
