#include "loopwalk/ends/cable_ends.hpp"

#include "place.hpp"
#include <algorithm>
#include <tuple>

namespace loopwalk::ends {

using base::ColumnId;
using base::EdgeId;
using base::WayId;
using network::LinkKind;
using network::NodeKind;
using trace::Component;

std::string_view end_state_name(EndState state) noexcept {
    switch (state) {
    case EndState::brings_in:
        return "brings in";
    case EndState::carries_on:
        return "carries on";
    case EndState::open_here:
        return "open here";
    case EndState::open_elsewhere:
        return "open elsewhere";
    case EndState::at_nothing:
        return "end at nothing";
    case EndState::recorded_disconnected:
        return "recorded disconnected";
    case EndState::recorded_removed:
        return "recorded removed";
    case EndState::not_drawn:
        return "recorded, not drawn here";
    case EndState::not_traced:
        return "not traced";
    }
    return {};
}

std::string_view stays_live_name(StaysLive stays) noexcept {
    switch (stays) {
    case StaysLive::no:
        return "no";
    case StaysLive::yes:
        return "yes";
    case StaysLive::unknown:
        return "unknown";
    case StaysLive::not_asked:
        break;
    }
    return {};
}

CableEnds::CableEnds(const model::Layers& layers, const network::Network& network,
                     const trace::Trace& trace, const figures::Figures& figures)
    : m_layers(layers), m_net(network), m_trace(trace), m_figures(figures),
      m_first(network.snapped.nodes.size() + 1), m_sections(2 * network.snapped.sections.size()),
      m_is_inside(network.vertex_node.size()), m_is_unclear(trace.components.size()),
      m_way_link(network.ways.size()) {
    const auto& sections = network.snapped.sections;
    for (const network::Section& section : sections) {
        ++m_first[section.from.index() + 1];
        ++m_first[section.to.index() + 1];
    }
    for (std::size_t n = 1; n < m_first.size(); ++n) {
        m_first[n] += m_first[n - 1];
    }
    std::vector<std::uint32_t> next(m_first.begin(), m_first.end() - 1);
    for (std::size_t s = 0; s < sections.size(); ++s) {
        m_sections[next[sections[s].from.index()]++] = SectionId(s);
        m_sections[next[sections[s].to.index()]++] = SectionId(s);
    }
    std::fill_n(m_is_inside.begin(), network.snapped.nodes.size(), std::uint8_t{1});
    for (const network::Way& way : network.ways) {
        m_is_inside[way.vertex.index()] = 1;
    }
    m_cut_out_link.resize(network.fused_side.size());
    for (std::size_t l = 0; l < network.links.size(); ++l) {
        const network::Link& link = network.links[l];
        const EdgeId edge(network.snapped.sections.size() + l);
        if (link.kind == LinkKind::busbar) {
            m_way_link[link.way.index()] = edge;
        } else {
            m_is_inside[link.b.index()] = 1;
            m_cut_out_link[network.snapped.nodes[network.node_of(link.a).index()].asset] = edge;
        }
    }
    for (std::size_t s = 0; s < sections.size(); ++s) {
        const bool is_unclear =
            m_layers.cables[sections[s].cable.index()].status == model::Status::unclear;
        if (is_unclear && network.section_from[s].is_valid()) {
            m_is_unclear[trace.component_of[network.section_from[s].index()].index()] = 1;
        }
    }
}

std::vector<CableEnd> CableEnds::at(NodeId asset) const {
    const Place place = place_of(asset);
    std::vector<CableEnd> ends;
    SectionId before;
    for (std::uint32_t i = m_first[asset.index()]; i < m_first[asset.index() + 1]; ++i) {
        const SectionId id = m_sections[i];
        const network::Section& section = m_net.snapped.sections[id.index()];
        const bool is_second = id == before; // a cable from the asset back to it
        before = id;
        const bool at_from = section.from == asset && !is_second;
        ends.push_back(end_of(
            place, id, at_from ? m_net.section_from[id.index()] : m_net.section_to[id.index()]));
    }
    add_not_drawn(ends, place);
    std::ranges::sort(ends, {}, [](const CableEnd& end) {
        return std::tuple(end.state, end.cable, end.section);
    });
    return ends;
}

CableEnds::Place CableEnds::place_of(NodeId asset) const {
    const network::Node& node = m_net.snapped.nodes[asset.index()];
    Place place{asset, node.kind, node.asset, {}, {}, {}};
    const Component* component = own_feed(asset);
    if (component == nullptr) {
        return place;
    }
    place.component = m_trace.id_of(*component);
    place.infeed = m_trace.infeeds_of(*component)[0];
    if (node.kind == NodeKind::column) {
        const figures::ColumnFigures& column = m_figures.columns[node.asset];
        place.infeed = column.infeed.is_valid() ? column.infeed : place.infeed;
        place.way = column.nearest_way;
    }
    if (!place.way.is_valid()) {
        place.way = m_net.way_of(place.infeed).value_or(WayId{});
    }
    return place;
}

const Component* CableEnds::own_feed(NodeId asset) const {
    const network::Node& node = m_net.snapped.nodes[asset.index()];
    const Component* component = node.kind == NodeKind::column
                                     ? trace::fed_component(m_net, m_trace, ColumnId(node.asset))
                                     : m_trace.find(VertexId(asset.index()));
    return component != nullptr && component->infeed_count > 0 ? component : nullptr;
}

CableEnd CableEnds::end_of(const Place& place, SectionId section, VertexId vertex) const {
    CableEnd end{.cable = m_net.snapped.sections[section.index()].cable,
                 .section = section,
                 .state = {},
                 .other = {},
                 .is_open_other = false,
                 .fed_by = {}};
    follow(end, place.node);
    end.fed_by = vertex.is_valid() ? component_of(vertex) : feed_of_asset(end.other, end.cable);
    end.state = state_of(end, place, vertex);
    fill_live(end, place, vertex);
    return end;
}

/// Along the cable to the next asset, through places where just two ends meet.
void CableEnds::follow(CableEnd& end, NodeId from) const {
    SectionId at = end.section;
    NodeId node = from;
    for (std::size_t step = 0; step <= m_net.snapped.sections.size(); ++step) {
        const network::Section& section = m_net.snapped.sections[at.index()];
        const NodeId next = section.from == node ? section.to : section.from;
        end.other = next;
        end.is_open_other = is_open(vertex_at(at, next));
        const std::uint32_t first = m_first[next.index()];
        const bool passes = m_net.snapped.nodes[next.index()].kind == NodeKind::derived &&
                            m_first[next.index() + 1] - first == 2;
        if (!passes || end.is_open_other || next == from) {
            return;
        }
        const SectionId other = m_sections[first] == at ? m_sections[first + 1] : m_sections[first];
        const bool both_conduct = m_net.section_from[at.index()].is_valid() &&
                                  m_net.section_from[other.index()].is_valid();
        if (!both_conduct && m_net.snapped.sections[other.index()].cable != section.cable) {
            return;
        }
        node = next;
        at = other;
    }
}

VertexId CableEnds::vertex_at(SectionId section, NodeId node) const {
    const network::Section& of = m_net.snapped.sections[section.index()];
    return of.to == node ? m_net.section_to[section.index()] : m_net.section_from[section.index()];
}

bool CableEnds::is_open(VertexId vertex) const {
    return vertex.is_valid() && m_is_inside[vertex.index()] == 0;
}

ComponentId CableEnds::component_of(VertexId vertex) const {
    const ComponentId id = m_trace.component_of[vertex.index()];
    return id.is_valid() && m_trace.components[id.index()].infeed_count > 0 ? id : ComponentId{};
}

/// What is joined to an asset; at a supply the way with the cable's own label.
ComponentId CableEnds::feed_of_asset(NodeId node, CableId cable) const {
    const network::Node& of = m_net.snapped.nodes[node.index()];
    if (of.kind != NodeKind::supply) {
        const Component* own = own_feed(node);
        return own == nullptr ? ComponentId{} : m_trace.id_of(*own);
    }
    const base::TextId label = m_layers.cables[cable.index()].circuit;
    const base::SupplyId supply(of.asset);
    auto way = std::ranges::lower_bound(m_net.ways, supply, {}, &network::Way::supply);
    for (; way != m_net.ways.end() && way->supply == supply; ++way) {
        if (label.is_valid() && way->circuit == label) {
            return component_of(way->vertex);
        }
    }
    return {};
}

EndState CableEnds::state_of(const CableEnd& end, const Place& place, VertexId vertex) const {
    const model::Status status = m_layers.cables[end.cable.index()].status;
    if (status == model::Status::removed) {
        return EndState::recorded_removed;
    }
    if (status == model::Status::disconnected) {
        return EndState::recorded_disconnected;
    }
    if (is_open(vertex)) {
        return EndState::open_here;
    }
    if (!end.fed_by.is_valid()) {
        return EndState::not_traced;
    }
    const NodeId other = end.other;
    const bool is_alone = m_net.snapped.nodes[other.index()].kind == NodeKind::derived &&
                          m_first[other.index() + 1] - m_first[other.index()] == 1;
    if (is_alone && !main_at(other).has_value()) {
        return EndState::at_nothing;
    }
    if (end.is_open_other) {
        return EndState::open_elsewhere;
    }
    const bool is_source = place.kind == NodeKind::supply && !place.component.is_valid();
    return !is_source && brings_in(end.section, vertex) ? EndState::brings_in
                                                        : EndState::carries_on;
}

/// Over the section towards the source; in a loop over each cable but those that lead away from
/// where the loop begins.
bool CableEnds::brings_in(SectionId section, VertexId vertex) const {
    const EdgeId parent = m_trace.parent_edge[vertex.index()];
    const EdgeId own(section.index());
    if (m_trace.looped[own.index()] == 0) {
        return m_trace.parent[vertex.index()].is_valid() && parent == own;
    }
    if (!m_trace.parent[vertex.index()].is_valid() || !m_net.is_section(parent)) {
        return false;
    }
    const auto mine = m_figures.block_of.find(section);
    const auto before = m_figures.block_of.find(SectionId(parent.index()));
    return mine == m_figures.block_of.end() || // supplies or phases joined: solved by no block
           (before != m_figures.block_of.end() && before->second == mine->second);
}

std::optional<base::MainId> CableEnds::main_at(NodeId node) const {
    const auto tap =
        std::ranges::lower_bound(m_net.snapped.main_taps, node, {}, &network::MainTap::node);
    return tap != m_net.snapped.main_taps.end() && tap->node == node ? std::optional(tap->main)
                                                                     : std::nullopt;
}

ComponentId CableEnds::fed_by(CableId cable, NodeId end) const {
    for (std::uint32_t i = m_first[end.index()]; i < m_first[end.index() + 1]; ++i) {
        const SectionId section = m_sections[i];
        if (m_net.snapped.sections[section.index()].cable != cable ||
            !m_net.section_from[section.index()].is_valid()) {
            continue;
        }
        if (const ComponentId found = component_of(vertex_at(section, end)); found.is_valid()) {
            return found;
        }
    }
    return {};
}

bool CableEnds::may_have_second(NodeId asset) const {
    const Component* own = own_feed(asset);
    for (std::uint32_t i = m_first[asset.index()]; i < m_first[asset.index() + 1]; ++i) {
        const network::Section& section = m_net.snapped.sections[m_sections[i].index()];
        const VertexId from = m_net.section_from[m_sections[i].index()];
        const VertexId to = m_net.section_to[m_sections[i].index()];
        const bool is_open_there =
            (section.from == asset && is_open(from)) || (section.to == asset && is_open(to));
        const bool is_inside =
            (section.from == asset && from.is_valid()) || (section.to == asset && to.is_valid());
        const bool is_other =
            is_inside && own != nullptr && m_trace.find(section.from == asset ? from : to) != own;
        if (is_open_there || is_other) {
            return true;
        }
    }
    return false;
}

void CableEnds::add_not_drawn(std::vector<CableEnd>& ends, const Place& place) const {
    auto row =
        std::ranges::lower_bound(m_net.undrawn_ends, place.node, {}, &network::UndrawnEnd::node);
    for (; row != m_net.undrawn_ends.end() && row->node == place.node; ++row) {
        CableEnd end{.cable = row->cable,
                     .section = {},
                     .state = EndState::not_drawn,
                     .other = {},
                     .is_open_other = false,
                     .fed_by = {}};
        const std::uint32_t first = m_net.snapped.first_section[row->cable.index()];
        if (first < m_net.snapped.first_section[row->cable.index() + 1] &&
            m_net.section_from[first].is_valid()) {
            end.fed_by = component_of(m_net.section_from[first]);
            end.other = m_net.snapped.sections[first].from;
        }
        end.with_fuse_out = end.with_way_out = end.with_supply_off = StaysLive::unknown;
        ends.push_back(end);
    }
}

} // namespace loopwalk::ends
