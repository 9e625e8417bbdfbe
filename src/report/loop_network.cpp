#include "loop_network.hpp"

#include "loopwalk/base/disjoint_sets.hpp"
#include "loopwalk/base/error.hpp"

#include <algorithm>

namespace loopwalk::report {

using impedance::Complex;
using impedance::Conductors;
using impedance::EarthPathState;
using impedance::Impedances;
using impedance::Presence;
using trace::LocalVertex;

SectionState state_of(const Context& c, base::SectionId id) {
    const impedance::CablePerKm& type = c.ohms.per_km(id);
    const network::EarthEnds& ends = c.net().earth_ends[id.index()];
    SectionState state;
    if (type.has_earth == Presence::no || (ends.broken && type.ends_unbonded)) {
        state.earth = EarthPathState::broken;
    } else if (type.has_earth == Presence::unknown || (ends.unknown && type.ends_unbonded)) {
        state.earth = EarthPathState::unknown;
    }
    state.neutral = type.has_neutral;
    const model::Cable& cable = c.cable_of(id);
    state.is_complete = cable.type.type.is_valid() && cable.laid.has_value();
    return state;
}

LoopNetwork::LoopNetwork(const Context& context, const trace::Block& block)
    : m_c(context), m_block(block) {
    for (std::size_t s = 0; s < block.sections.size(); ++s) {
        m_states.push_back(state_of(context, block.sections[s].id));
        const bool has_ohms = ohms(s, &Conductors::line, &Impedances::hot_low) != Complex();
        m_is_complete = m_is_complete && m_states.back().is_complete && has_ohms;
    }
}

Complex LoopNetwork::ohms(std::size_t section, ConductorOf conductor, ConditionOf when) const {
    const base::SectionId id = m_block.sections[section].id;
    const auto length = m_c.ohms.length(id);
    const bool is_high = when == &Impedances::hot_high || when == &Impedances::cold_high;
    const double metres = (is_high ? length.high : length.low).value();
    return m_c.ohms.per_km(id).z.*when.*conductor * (metres / 1000.0);
}

/// For a low bound what may conduct does, for a high one only what does for sure.
bool LoopNetwork::conducts(std::size_t section, ConductorOf conductor, ConditionOf when) const {
    const bool may = when == &Impedances::hot_low || when == &Impedances::cold_low;
    const SectionState& state = m_states[section];
    if (conductor == &Conductors::earth) {
        return state.earth == EarthPathState::intact ||
               (may && state.earth == EarthPathState::unknown);
    }
    if (conductor == &Conductors::neutral) {
        return state.neutral == Presence::yes || (may && state.neutral == Presence::unknown);
    }
    return true;
}

std::vector<std::uint32_t> LoopNetwork::groups(const std::vector<bool>& open) const {
    base::DisjointSets joined(m_block.vertices.size());
    for (std::size_t l = 0; l < m_block.links.size(); ++l) {
        if (open.empty() || !open[l]) {
            joined.join(m_block.links[l].a, m_block.links[l].b);
        }
    }
    return joined.numbered().set_of;
}

std::optional<Complex> LoopNetwork::drive(ConductorOf conductor, ConditionOf when, LocalVertex to,
                                          const std::vector<bool>& open) const {
    const bool is_line = conductor == &Conductors::line;
    const std::vector<std::uint32_t> group = groups(is_line ? open : std::vector<bool>{});
    solution::NodalNetwork net(*std::ranges::max_element(group) + 1U);
    net.hold(group[m_block.terminals[0].vertex]);
    for (std::size_t s = 0; s < m_block.sections.size(); ++s) {
        if (conducts(s, conductor, when)) {
            net.connect(group[m_block.sections[s].a], group[m_block.sections[s].b],
                        ohms(s, conductor, when));
        }
    }
    net.solve();
    return net.is_held_up(group[to]) ? std::optional(net.driving_point(group[to])) : std::nullopt;
}

std::vector<RingBranch> LoopNetwork::ring_branches(LocalVertex to) const {
    const std::vector<std::uint32_t> group = groups({});
    std::vector<std::vector<std::size_t>> at(*std::ranges::max_element(group) + 1U);
    for (std::size_t s = 0; s < m_block.sections.size(); ++s) {
        at[group[m_block.sections[s].a]].push_back(s);
        at[group[m_block.sections[s].b]].push_back(s);
    }
    if (std::ranges::any_of(at, [](const auto& sections) { return sections.size() != 2; })) {
        return {};
    }
    const std::uint32_t start = group[m_block.terminals[0].vertex];
    std::vector<RingBranch> branches;
    for (const std::size_t first : at[start]) {
        RingBranch branch;
        std::size_t section = first;
        std::uint32_t node = start;
        while (node != group[to]) {
            branch.push_back(section);
            const trace::Block::Section& passed = m_block.sections[section];
            node = group[passed.a] == node ? group[passed.b] : group[passed.a];
            section = at[node][0] == section ? at[node][1] : at[node][0];
            if (node == start) {
                return {};
            }
        }
        branches.push_back(branch);
    }
    return branches;
}

std::string LoopNetwork::name(LocalVertex vertex) const {
    const base::VertexId v = m_block.vertices[vertex];
    const std::string plain = m_c.vertex_name(v);
    const auto first = std::ranges::find(m_block.vertices, v) - m_block.vertices.begin();
    const network::Node& node = m_c.net().snapped.nodes[m_c.net().node_of(v).index()];
    if (static_cast<LocalVertex>(first) != vertex) { // split, or the terminals behind a way
        return node.kind == network::NodeKind::joint ? plain + " beyond its fuse" : plain;
    }
    for (const network::Way& way : m_c.net().ways) {
        if (way.vertex == v) {
            return plain + "/" + m_c.text(way.name);
        }
    }
    const bool fused = node.kind == network::NodeKind::column && !m_c.net().fused_side.empty() &&
                       m_c.net().fused_side[node.asset] == v;
    return fused ? plain + " fused side" : plain;
}

} // namespace loopwalk::report
