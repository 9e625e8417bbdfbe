#include "loopwalk/base/text.hpp"
#include "loopwalk/output/dark.hpp"

#include <algorithm>

namespace loopwalk::output {

using base::CableId;
using base::ColumnId;
using base::JointId;
using base::MainId;
using base::NodeId;
using base::SectionId;
using base::SupplyId;
using base::WayId;
using network::NodeKind;
using outage::Loss;
using outage::PlaceKind;
using outage::Scope;

LossWords::LossWords(const Results& results)
    : m_r(results), m_explain(results.layers(), results.catalogue, results.network, results.trace,
                              results.figures) {}

std::string LossWords::column(ColumnId id) const {
    return text(m_r.layers().columns[id.index()].id);
}

std::string LossWords::at_road(ColumnId id) const {
    const base::TextId road = m_r.layers().columns[id.index()].road;
    return column(id) + (road.is_valid() ? " (" + text(road) + ")" : "");
}

std::string LossWords::supply_text(SupplyId id) const {
    const model::Supply& supply = m_r.layers().supplies[id.index()];
    const char* kind = "pillar ";
    switch (supply.kind) {
    case model::SupplyKind::section_pillar:
        kind = "section pillar ";
        break;
    case model::SupplyKind::service:
        kind = "service ";
        break;
    case model::SupplyKind::substation:
        kind = "substation ";
        break;
    case model::SupplyKind::unknown:
    case model::SupplyKind::pillar:
        break;
    }
    return kind + text(supply.id);
}

std::string LossWords::way_text(WayId id) const {
    const network::Way& way = m_r.network.ways[id.index()];
    return "way " + text(way.name) + " of " + supply_text(way.supply);
}

std::string LossWords::fuse_of_way(WayId id) const {
    const network::Way& way = m_r.network.ways[id.index()];
    if (!way.device.is_valid()) {
        return "no fuse on record";
    }
    const model::FuseRecord& fuse = m_r.network.devices[way.device.index()].fuse;
    std::string words =
        fuse.is_absent() ? "fuse not recorded" : "fuse " + m_explain.fuse_text(fuse);
    if (way.row.is_valid() && m_r.layers().ways[way.row.index()].rcd_ma.has_value()) {
        words += ", RCD";
    }
    return words;
}

std::string LossWords::node_name(NodeId id, CableId seen_from) const {
    const network::Node& node = m_r.network.snapped.nodes[id.index()];
    if (node.kind != NodeKind::derived) {
        return network::node_name(m_r.layers(), node);
    }
    std::vector<std::string> others;
    for (const network::Section& section : m_r.network.snapped.sections) {
        if ((section.from == id || section.to == id) && section.cable != seen_from) {
            others.push_back(text(m_r.layers().cables[section.cable.index()].id));
        }
    }
    return others.empty() ? "its end at nothing on record"
                          : "where it meets " + base::listed(others, 3);
}

std::string LossWords::meeting_text(NodeId id) const {
    std::vector<std::string> cables;
    for (const network::Section& section : m_r.network.snapped.sections) {
        if (section.from == id || section.to == id) {
            cables.push_back(text(m_r.layers().cables[section.cable.index()].id));
        }
    }
    cables.erase(std::unique(cables.begin(), cables.end()), cables.end());
    return "where " + base::listed(cables, 3) + " meet (no joint on record)";
}

LossWords::Ends LossWords::ends_of(SectionId id) const {
    const network::Section& section = m_r.network.snapped.sections[id.index()];
    const base::VertexId from = m_r.network.section_from[id.index()];
    const base::VertexId to = m_r.network.section_to[id.index()];
    const auto comes_over_it = [&](base::VertexId v) {
        return m_r.trace.parent[v.index()].is_valid() &&
               m_r.trace.parent_edge[v.index()] == base::EdgeId(id.index());
    };
    Ends ends{section.from, section.to, false};
    if (comes_over_it(from)) {
        std::swap(ends.from, ends.to);
    }
    const bool has_one_feed =
        m_r.trace.clean[from.index()] != 0 && m_r.trace.clean[to.index()] != 0;
    ends.is_directed = has_one_feed && (comes_over_it(from) || comes_over_it(to));
    return ends;
}

std::string LossWords::section_text(SectionId id) const {
    const network::Section& section = m_r.network.snapped.sections[id.index()];
    const Ends ends = ends_of(id);
    const double metres = network::section_length(m_r.layers(), section).value();
    return "cable " + text(m_r.layers().cables[section.cable.index()].id) + ", " +
           node_name(ends.from, section.cable) + " to " + node_name(ends.to, section.cable) + " (" +
           base::fixed_text(metres, 0) + " m), and its ends";
}

std::string LossWords::section_step(SectionId id) const {
    const network::Section& section = m_r.network.snapped.sections[id.index()];
    const std::string cable = "cable " + text(m_r.layers().cables[section.cable.index()].id);
    const Ends ends = ends_of(id);
    const std::string from = node_name(ends.from, section.cable);
    const std::string to = node_name(ends.to, section.cable);
    const network::Node& node = m_r.network.snapped.nodes[ends.to.index()];
    if (ends.is_directed && node.kind != NodeKind::derived) {
        const bool is_column = node.kind == NodeKind::column;
        return "Go to " + (is_column ? at_road(ColumnId(node.asset)) : to) +
               ": is there voltage where " + cable + " comes in from " + from + "?";
    }
    return "Test " + cable + " between " + from + " and " + to + ".";
}

std::string LossWords::switching_text(const Loss& loss) const {
    const std::uint32_t at = loss.place.index;
    if (loss.place.kind == PlaceKind::way) {
        return "switching of " + way_text(WayId(at));
    }
    const bool is_all =
        loss.place.kind == PlaceKind::supply || loss.place.kind == PlaceKind::busbar;
    return is_all ? "switching of all of " + supply_text(SupplyId(at))
                  : "switch core: " + place_text(loss);
}

std::string LossWords::place_text(const Loss& loss) const {
    const std::uint32_t at = loss.place.index;
    switch (loss.place.kind) {
    case PlaceKind::passed:
        break;
    case PlaceKind::way:
        return way_text(WayId(at)) + ": " + fuse_of_way(WayId(at));
    case PlaceKind::cut_out:
        return "cut-out fuse of " + column(ColumnId(at)) + ", which feeds further cables";
    case PlaceKind::fused_joint:
        return "fuse of joint " + text(m_r.layers().joints[at].id) + ", or the joint";
    case PlaceKind::lamp:
        return column(ColumnId(at)) + "'s own lamp, driver or cut-out fuse";
    case PlaceKind::tap:
        return "service off " + m_explain.infeed_name(base::InfeedId(at));
    case PlaceKind::section:
        return section_text(SectionId(at));
    case PlaceKind::terminals:
        return "terminals in " + column(ColumnId(at));
    case PlaceKind::joint:
        return "joint " + text(m_r.layers().joints[at].id);
    case PlaceKind::meeting:
        return meeting_text(NodeId(at));
    case PlaceKind::busbar:
        return "busbar of " + supply_text(SupplyId(at));
    case PlaceKind::supply:
        return "all of " + supply_text(SupplyId(at)) + ": what feeds it, its main switch";
    case PlaceKind::service:
        return column(ColumnId(at)) + "'s service (no cable on record)";
    case PlaceKind::main:
        return "main " + text(m_r.layers().mains[at].id);
    case PlaceKind::substation:
        return "substation " + text(m_r.layers().supplies[at].id);
    case PlaceKind::unrecorded:
        return "whatever feeds " + column(ColumnId(at)) +
               " (not traced: no source was found in the records, treat as live)";
    }
    return {};
}

std::string LossWords::what(const Loss& loss) const {
    std::string words =
        loss.scope == Scope::whole ? place_text(loss)
        : loss.scope == Scope::switching
            ? switching_text(loss)
            : "phase " + std::string(scope_name(loss.scope)) + " alone: " + place_text(loss);
    if (is_distributors(loss)) {
        words += " - the distributor's";
    }
    return words;
}

bool LossWords::is_distributors(const Loss& loss) const {
    const std::uint32_t at = loss.place.index;
    const model::Layers& layers = m_r.layers();
    switch (loss.place.kind) {
    case PlaceKind::tap:
    case PlaceKind::service:
    case PlaceKind::main:
    case PlaceKind::substation:
        return true;
    case PlaceKind::supply:
        return model::is_distributors(layers.supplies[at].kind);
    case PlaceKind::way:
        return model::is_distributors(layers.supplies[m_r.network.ways[at].supply.index()].kind);
    case PlaceKind::section:
        return layers.cables[m_r.network.snapped.sections[at].cable.index()].owner ==
               model::Owner::distributor;
    case PlaceKind::passed:
    case PlaceKind::cut_out:
    case PlaceKind::fused_joint:
    case PlaceKind::lamp:
    case PlaceKind::terminals:
    case PlaceKind::joint:
    case PlaceKind::meeting:
    case PlaceKind::busbar:
    case PlaceKind::unrecorded:
        break;
    }
    return false;
}

std::string LossWords::place_step(const Loss& loss) const {
    const std::uint32_t at = loss.place.index;
    switch (loss.place.kind) {
    case PlaceKind::way: {
        const network::Way& way = m_r.network.ways[at];
        return "Go to " + supply_text(way.supply) + ": look at way " + text(way.name) + " (" +
               fuse_of_way(WayId(at)) + ").";
    }
    case PlaceKind::cut_out:
        return "Go to " + at_road(ColumnId(at)) +
               ": look at its cut-out fuse, which feeds further cables.";
    case PlaceKind::fused_joint:
        return "Go to fused joint " + text(m_r.layers().joints[at].id) + ": look at its fuse.";
    case PlaceKind::lamp:
        return "Go to " + at_road(ColumnId(at)) +
               ": is there voltage at its cut-out? If so it is its own lamp, driver or fuse.";
    case PlaceKind::section:
        return section_step(SectionId(at));
    case PlaceKind::terminals:
        return "Go to " + at_road(ColumnId(at)) + ": look at the terminals of its cut-out.";
    case PlaceKind::joint:
        return "Test on both sides of joint " + text(m_r.layers().joints[at].id) + ".";
    case PlaceKind::meeting:
        return "Test on both sides of the place " + meeting_text(NodeId(at)) + ".";
    case PlaceKind::busbar:
    case PlaceKind::supply:
        return "Go to " + supply_text(SupplyId(at)) +
               ": is there voltage where its supply comes in?";
    case PlaceKind::unrecorded:
        return "Find what feeds " + column(ColumnId(at)) + ": no source was found in the records.";
    case PlaceKind::passed:
    case PlaceKind::tap:
    case PlaceKind::service:
    case PlaceKind::main:
    case PlaceKind::substation:
        break;
    }
    return {};
}

std::string LossWords::first_step(const Loss& loss) const {
    if (is_distributors(loss)) {
        return "Tell the distributor: " + place_text(loss) + ".";
    }
    if (loss.scope == Scope::switching) {
        return "Look at the " + switching_text(loss) + ": photocell, time switch, contactor.";
    }
    const std::string step = place_step(loss);
    return loss.scope == Scope::whole
               ? step
               : "Phase " + std::string(scope_name(loss.scope)) + " alone. " + step;
}

} // namespace loopwalk::output
