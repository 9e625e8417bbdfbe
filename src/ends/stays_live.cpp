// What it takes, as far as the records tell, to have no supply in a cable end. "No" is only said
// where every feed that the records know passes what is opened.
#include "place.hpp"
#include <algorithm>

namespace loopwalk::ends {

using base::EdgeId;
using base::WayId;
using network::NodeKind;
using trace::Component;

void CableEnds::fill_live(CableEnd& end, const Place& place, VertexId vertex) const {
    const bool has_fuse =
        place.kind == NodeKind::column ||
        (place.kind == NodeKind::joint && m_net.joint_device[place.asset].is_valid());
    const bool has_way = place.kind == NodeKind::supply || place.way.is_valid();
    if (!vertex.is_valid() || !end.fed_by.is_valid() ||
        m_is_unclear[end.fed_by.index()] != 0) { // a source the records do not know, or may not
        end.with_fuse_out = has_fuse ? StaysLive::unknown : StaysLive::not_asked;
        end.with_way_out = has_way ? StaysLive::unknown : StaysLive::not_asked;
        end.with_supply_off = StaysLive::unknown;
        return;
    }
    end.with_fuse_out = has_fuse ? with_fuse_out(place, end.section, vertex) : StaysLive::not_asked;
    end.with_way_out = has_way ? with_way_out(place, end, vertex) : StaysLive::not_asked;
    end.with_supply_off = with_supply_off(place, end);
}

/// A cut-out's fuse cuts off what hangs on its fused side alone; a fused joint's, what is behind
/// it.
StaysLive CableEnds::with_fuse_out(const Place& place, SectionId section, VertexId vertex) const {
    if (place.kind == NodeKind::joint) {
        const bool is_looped = m_trace.looped[section.index()] != 0;
        return is_open(vertex) || brings_in(section, vertex) ? StaysLive::yes
               : is_looped                                   ? StaysLive::unknown
                                                             : StaysLive::no;
    }
    if (m_net.side_unknown[section.index()] != 0) {
        return StaysLive::unknown;
    }
    const EdgeId link =
        place.asset < m_cut_out_link.size() ? m_cut_out_link[place.asset] : EdgeId{};
    if (is_open(vertex) || !link.is_valid() || m_trace.looped[link.index()] != 0) {
        return StaysLive::yes;
    }
    const bool is_behind =
        m_trace.parent[vertex.index()].is_valid() && m_trace.parent_edge[vertex.index()] == link;
    return is_behind ? StaysLive::no : StaysLive::yes;
}

/// The way out is that which feeds the asset; at a supply the end's own.
StaysLive CableEnds::with_way_out(const Place& place, const CableEnd& end, VertexId vertex) const {
    const Component& component = m_trace.components[end.fed_by.index()];
    if (place.kind == NodeKind::supply) {
        if (is_open(vertex)) {
            return StaysLive::yes; // something else feeds it
        }
        const WayId way(vertex.index() - m_net.snapped.nodes.size()); // their vertices come next
        if (m_way_link[way.index()].is_valid()) {
            return without_link(way, vertex);
        }
        return component.infeed_count > 1 ? StaysLive::yes : StaysLive::no;
    }
    if (end.fed_by != place.component) {
        return StaysLive::yes; // of another way
    }
    if (m_way_link[place.way.index()].is_valid()) {
        return without_link(place.way, vertex);
    }
    return component.infeed_count > 1 ? StaysLive::yes : StaysLive::no;
}

/// The way of a section pillar: what is behind it has no other feed unless it lies in a loop.
StaysLive CableEnds::without_link(WayId way, VertexId vertex) const {
    const EdgeId link = m_way_link[way.index()];
    if (m_trace.looped[link.index()] != 0) {
        return StaysLive::yes;
    }
    for (VertexId v = vertex; m_trace.parent[v.index()].is_valid(); v = m_trace.parent[v.index()]) {
        if (m_trace.parent_edge[v.index()] == link) {
            return StaysLive::no;
        }
    }
    return StaysLive::yes;
}

StaysLive CableEnds::with_supply_off(const Place& place, const CableEnd& end) const {
    const Component& component = m_trace.components[end.fed_by.index()];
    std::optional<network::Origin> own;
    if (place.infeed.is_valid()) {
        own = m_net.origin_of(place.infeed);
    } else if (place.kind == NodeKind::supply) {
        own = base::SupplyId(place.asset);
    }
    if (!own.has_value()) {
        return StaysLive::yes; // nothing feeds the asset itself, and something feeds this end
    }
    const bool has_other = std::ranges::any_of(m_trace.infeeds_of(component), [&](InfeedId infeed) {
        return m_net.origin_of(infeed) != *own;
    });
    return has_other ? StaysLive::yes : StaysLive::no;
}

} // namespace loopwalk::ends
