#include "loopwalk/protection/feed_facts.hpp"

#include "loopwalk/figures/loads.hpp"

namespace loopwalk::protection {

using base::ColumnId;
using base::Maybe;
using base::Number;
using base::Second;
using base::VertexId;
using base::WayId;
using figures::ColumnFigures;
using figures::is_hand_held_use;
using figures::SectionFigures;
using impedance::Source;

const Source* FeedFacts::source_of_infeed(base::InfeedId infeed) const {
    return m_figures.source_of(m_net, infeed);
}

const Source* FeedFacts::source(const ColumnFigures& column) const {
    return column.infeed.is_valid() ? source_of_infeed(column.infeed) : nullptr;
}

const Source* FeedFacts::source(const SectionFigures& section) const {
    return section.infeed.is_valid() ? source_of_infeed(section.infeed) : nullptr;
}

base::SectionId FeedFacts::section_to(VertexId v) const {
    while (m_trace.parent[v.index()].is_valid()) {
        const base::EdgeId edge = m_trace.parent_edge[v.index()];
        if (m_net.is_section(edge)) {
            return base::SectionId(edge.index());
        }
        v = m_trace.parent[v.index()];
    }
    return {};
}

bool FeedFacts::any_column_before(ColumnId id, const std::function<bool(ColumnId)>& is_one) const {
    for (VertexId v = m_figures.columns[id.index()].vertex;
         v.is_valid() && m_trace.parent[v.index()].is_valid();) {
        v = m_trace.parent[v.index()];
        const network::Node& node = m_net.snapped.nodes[m_net.node_of(v).index()];
        const bool is_other = node.kind == network::NodeKind::column && node.asset != id.index();
        if (is_other && is_one(ColumnId(node.asset))) {
            return true;
        }
    }
    return false;
}

model::Owner FeedFacts::owner_of_path(ColumnId id) const {
    model::Owner owner = model::Owner::distributor;
    VertexId v = m_figures.columns[id.index()].vertex;
    for (; v.is_valid() && m_trace.parent[v.index()].is_valid(); v = m_trace.parent[v.index()]) {
        const base::EdgeId edge = m_trace.parent_edge[v.index()];
        if (!m_net.is_section(edge)) {
            continue;
        }
        const base::CableId cable = m_net.snapped.sections[edge.index()].cable;
        const model::Owner of_cable = m_layers.cables[cable.index()].owner;
        if (of_cable == model::Owner::council) {
            return of_cable;
        }
        owner = of_cable == model::Owner::unknown ? of_cable : owner;
    }
    return owner;
}

bool FeedFacts::is_councils(base::SectionId id) const {
    const base::CableId cable = m_net.snapped.sections[id.index()].cable;
    return m_layers.cables[cable.index()].owner == model::Owner::council;
}

bool FeedFacts::is_on_main(const ColumnFigures& figures) const {
    return figures.infeed.is_valid() && m_net.main_of(figures.infeed).has_value() &&
           !figures.device.is_valid() && !figures.is_multi_fed;
}

bool FeedFacts::is_tt(ColumnId id) const {
    return figures::is_tt(m_layers.columns[id.index()], source(m_figures.columns[id.index()]));
}

Second FeedFacts::in_limit(ColumnId id) const {
    const model::Column& column = m_layers.columns[id.index()];
    const WayId way = m_figures.columns[id.index()].nearest_way;
    if (column.limit.has_value()) {
        return *column.limit;
    }
    if (way.is_valid() && m_net.ways[way.index()].row.is_valid()) {
        return m_layers.ways[m_net.ways[way.index()].row.index()].limit.value_or(
            m_rules.disconnection);
    }
    return m_rules.disconnection;
}

Second FeedFacts::out_limit(ColumnId id, const model::Load* load) const {
    const model::Column& column = m_layers.columns[id.index()];
    if (load != nullptr && load->limit.has_value()) {
        return *load->limit;
    }
    if (load != nullptr && is_hand_held_use(m_layers.text.view(load->use))) {
        return is_tt(id) ? m_rules.socket_disconnection_tt : m_rules.socket_disconnection_tn;
    }
    return column.limit.value_or(m_rules.cut_out_disconnection);
}

Maybe<Number> FeedFacts::way_rcd(ColumnId id) const {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    if (!figures.nearest_way.is_valid()) {
        return {}; // straight off a main
    }
    const network::Way& way = m_net.ways[figures.nearest_way.index()];
    if (way.row.is_valid() && m_layers.ways[way.row.index()].rcd_ma.has_value()) {
        return m_layers.ways[way.row.index()].rcd_ma;
    }
    return m_layers.supplies[way.supply.index()].rcd_ma;
}

} // namespace loopwalk::protection
