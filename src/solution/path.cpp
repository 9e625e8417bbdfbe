#include "loopwalk/solution/path.hpp"

#include <algorithm>

namespace loopwalk::solution {

using impedance::ArmourBond;
using impedance::per_km;

namespace {

using base::Metre;
using network::LinkKind;
using network::NodeKind;

void weaken(EarthPathState& state, EarthPathState by) {
    state = std::max(state, by);
}

Impedances scaled(const Impedances& per_km, const base::Bounds<Metre>& length) {
    const double low = length.low.value() / 1000.0;
    const double high = length.high.value() / 1000.0;
    return {per_km.hot_low * low, per_km.hot_high * high, per_km.cold_low * low,
            per_km.cold_high * high};
}

} // namespace

void Weakest::add(base::SectionId section,
                  const base::Bounds<base::AmpereSquaredSecond>& withstand) {
    if (withstand.low.value() <= low_a2s) {
        low_a2s = withstand.low.value();
        at.low = section;
    }
    if (withstand.high.value() <= high_a2s) {
        high_a2s = withstand.high.value();
        at.high = section;
    }
}

void Weakest::merge(const Weakest& other) {
    if (other.at.low.is_valid() && other.low_a2s <= low_a2s) {
        low_a2s = other.low_a2s;
        at.low = other.at.low;
    }
    if (other.at.high.is_valid() && other.high_a2s <= high_a2s) {
        high_a2s = other.high_a2s;
        at.high = other.at.high;
    }
}

PathMaker::PathMaker(const model::Layers& layers, const catalogue::Catalogue& catalogue,
                     const config::Rules& rules, const Assumptions& assumptions,
                     const network::Network& network)
    : m_layers(layers), m_rules(rules), m_assumptions(assumptions), m_net(network) {
    for (const catalogue::CableType& type : catalogue.cables()) {
        m_bonded.push_back(per_km(type, rules.armour_ac_factor, ArmourBond::bonded));
        m_unbonded.push_back(per_km(type, rules.armour_ac_factor, ArmourBond::not_bonded));
    }
}

Path PathMaker::start(InfeedId id, const Source* source) const {
    const network::Infeed& infeed = m_net.infeeds[id.index()];
    Path path;
    path.infeed = id;
    path.upstream = m_net.node_of(infeed.vertex);
    path.way = m_net.way_of(id).value_or(WayId{});
    path.device = m_net.device_of(id);
    const auto supply = m_net.supply_of(id);
    if (supply.has_value() && m_layers.supplies[supply->index()].status == model::Status::unclear) {
        path.missing.add(Missing::status);
    }
    if (source != nullptr && source->has_ze) {
        path.source_high = source->ze.high;
    }
    if (source != nullptr) {
        path.is_source_known = true;
        path.z = source->mains;
        if (source->mains_incomplete) {
            path.missing.add(Missing::ze);
        }
    }
    if (source != nullptr && source->ze_missing) {
        path.missing.add(Missing::ze);
    }
    if (source != nullptr && source->earthing_missing) {
        path.missing.add(Missing::earthing);
    }
    return path;
}

Path PathMaker::step(const Path& path, VertexId from, VertexId to, base::EdgeId edge) const {
    Path next = path;
    pass_node(next, from, to);
    if (m_net.is_section(edge)) {
        pass_section(next, base::SectionId(edge.index()));
    } else {
        pass_link(next, from, m_net.link(edge));
    }
    return next;
}

void PathMaker::pass_node(Path& path, VertexId from, VertexId to) const {
    const base::NodeId left = m_net.node_of(from);
    const base::NodeId entered = m_net.node_of(to);
    const network::Node& node = m_net.snapped.nodes[left.index()];
    if (left != entered) {
        path.hops += m_net.snapped.nodes[entered.index()].kind == NodeKind::column ? 1U : 0U;
        path.through_column = path.through_column || node.kind == NodeKind::column;
        if (node.kind != NodeKind::derived) {
            path.upstream = left;
        }
        note_status(path, entered);
    }
    if (node.kind == NodeKind::joint && m_net.joint_device[node.asset].is_valid()) {
        const bool is_unclear = std::ranges::find(m_unclear_joints, left) != m_unclear_joints.end();
        if (!is_unclear) {
            path.protect(m_net.joint_device[node.asset]);
        }
    }
}

/// A supply or column with an unexplained status: the cables through it may not be joined there.
void PathMaker::note_status(Path& path, base::NodeId id) const {
    const network::Node& node = m_net.snapped.nodes[id.index()];
    const bool is_unclear = (node.kind == NodeKind::column &&
                             m_layers.columns[node.asset].status == model::Status::unclear) ||
                            (node.kind == NodeKind::supply &&
                             m_layers.supplies[node.asset].status == model::Status::unclear);
    if (is_unclear) {
        path.missing.add(Missing::status);
    }
}

void PathMaker::pass_link(Path& path, VertexId from, const network::Link& link) const {
    const bool leaves = from == link.a; // busbar to way, or loop side to fused side
    if (link.kind == LinkKind::busbar) {
        const bool has_row = m_net.ways[link.way.index()].row.is_valid();
        if (link.device.is_valid() && (leaves || has_row)) {
            path.protect(link.device);
        }
        if (leaves) {
            path.way = link.way;
        }
    } else if (link.device.is_valid()) {
        path.protect(link.device);
    }
}

void PathMaker::pass_section(Path& path, base::SectionId id) const {
    const PieceOhms ohms = ohms_of(id);
    path.z += ohms.z;
    path.run_m += section_length(m_layers, m_net.snapped.sections[id.index()]).value();
    weaken(path.earth, ohms.earth);
    path.neutral = in_series(path.neutral, ohms.neutral);
    pass_records(path, id);
}

PieceOhms PathMaker::ohms_of(base::SectionId id) const {
    const network::Section& section = m_net.snapped.sections[id.index()];
    const model::Cable& cable = m_layers.cables[section.cable.index()];
    const CablePerKm& type = per_km_of(id);
    const network::EarthEnds& ends = m_net.earth_ends[id.index()];
    PieceOhms ohms;
    ohms.z = scaled(type.z, length(section));
    if (type.has_earth != Presence::yes) {
        weaken(ohms.earth,
               type.has_earth == Presence::no ? EarthPathState::broken : EarthPathState::unknown);
    }
    if (ends.broken && type.ends_unbonded) {
        weaken(ohms.earth, EarthPathState::broken);
    } else if (ends.unknown && type.ends_unbonded) {
        weaken(ohms.earth, EarthPathState::unknown);
    }
    ohms.neutral = type.has_neutral;
    ohms.is_complete = cable.type.type.is_valid() && cable.laid.has_value();
    return ohms;
}

void PathMaker::pass_records(Path& path, base::SectionId id) const {
    const network::Section& section = m_net.snapped.sections[id.index()];
    const model::Cable& cable = m_layers.cables[section.cable.index()];
    const CablePerKm& type = per_km_of(id);
    const network::EarthEnds& ends = m_net.earth_ends[id.index()];
    if (!ends.broken && ends.unknown && type.ends_unbonded) {
        path.missing.add(Missing::earth_bond);
    }
    path.line.add(id, type.withstand.line);
    path.neutral_core.add(id, type.withstand.neutral);
    path.earth_path.add(id, type.withstand.earth);
    path.ampacity_known = path.ampacity_known && type.ampacity.has_value();
    if (type.ampacity.has_value() && (!path.ampacity || *type.ampacity < *path.ampacity)) {
        path.ampacity = type.ampacity;
    }
    if (m_net.side_unknown[id.index()] != 0) {
        path.missing.add(Missing::termination_side);
    }
    if (cable.status == model::Status::unclear) {
        path.missing.add(Missing::status);
    }
    if (path.last_cable != section.cable) { // each cable's attributes once
        if (!cable.type.type.is_valid()) {
            path.missing.add(Missing::cable_type);
        }
        if (!cable.laid.has_value()) {
            path.missing.add(Missing::length);
        }
        path.last_cable = section.cable;
    }
}

void PathMaker::merge_records(Path& path, const Path& block) {
    path.missing.count += block.missing.count;
    path.missing.kinds = static_cast<std::uint16_t>(path.missing.kinds | block.missing.kinds);
    path.line.merge(block.line);
    path.neutral_core.merge(block.neutral_core);
    path.earth_path.merge(block.earth_path);
    path.ampacity_known = path.ampacity_known && block.ampacity_known;
    if (block.ampacity.has_value() && (!path.ampacity || *block.ampacity < *path.ampacity)) {
        path.ampacity = block.ampacity;
    }
}

bool PathMaker::takes_an_end(base::NodeId node) const {
    return m_net.snapped.nodes[node.index()].kind != NodeKind::derived;
}

base::Bounds<Metre> PathMaker::length(const network::Section& section) const {
    const model::Cable& cable = m_layers.cables[section.cable.index()];
    if (cable.laid.has_value()) {
        return base::Bounds<Metre>::exactly(section_length(m_layers, section));
    }
    if (m_assumptions.cable_length.has_value()) {
        double whole = 0.0;
        for (const model::Part& part : m_layers.parts_of(cable)) {
            whole += part.drawn.value();
        }
        const double share = section.drawn.value() / whole;
        return {m_assumptions.cable_length->low * share, m_assumptions.cable_length->high * share};
    }
    const int ends = (takes_an_end(section.from) ? 1 : 0) + (takes_an_end(section.to) ? 1 : 0);
    return {section.drawn, section.drawn * m_rules.drawn_length_factor +
                               m_rules.drawn_end_allowance * static_cast<double>(ends)};
}

const CablePerKm& PathMaker::per_km_of(base::SectionId section) const {
    const model::Cable& cable =
        m_layers.cables[m_net.snapped.sections[section.index()].cable.index()];
    if (!cable.type.type.is_valid()) {
        const bool broken = m_net.earth_ends[section.index()].broken;
        return broken ? m_assumptions.missing_cable_unbonded : m_assumptions.missing_cable;
    }
    return per_km_if(section, cable.type.type);
}

const CablePerKm& PathMaker::per_km_if(base::SectionId section, base::CableTypeId type) const {
    const bool broken = m_net.earth_ends[section.index()].broken;
    return broken ? m_unbonded[type.index()] : m_bonded[type.index()];
}

} // namespace loopwalk::solution
