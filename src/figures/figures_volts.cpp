#include "figure_maker.hpp"
#include <algorithm>
#include <cmath>

namespace loopwalk::figures {

using base::Ampere;
using base::Number;
using impedance::Complex;
using impedance::Presence;
using network::NodeKind;
using solution::solve_radial;

void FigureMaker::solve_volt_drop(const Component& component) {
    m_low.clear();
    m_high.clear();
    for (const VertexId v : m_trace.vertices(component)) {
        const Path& path = m_at[m_position[v.index()]];
        if (path.neutral != Presence::yes) {
            return;
        }
        const base::NodeId node = m_net.node_of(v);
        const network::Node& n = m_net.snapped.nodes[node.index()];
        ColumnLoad load;
        if (n.kind == NodeKind::column && m_figures.columns[n.asset].vertex == v) {
            load = m_loads.of(base::ColumnId(n.asset));
        }
        const VertexId parent = m_trace.parent[v.index()];
        const std::uint32_t at = parent.is_valid() ? m_position[parent.index()] : 0;
        Complex low = path.z.hot_low.line + path.z.hot_low.neutral;
        Complex high = path.z.hot_high.line + path.z.hot_high.neutral;
        low -= m_at[at].z.hot_low.line + m_at[at].z.hot_low.neutral;
        high -= m_at[at].z.hot_high.line + m_at[at].z.hot_high.neutral;
        m_low.add(at, low, {load.real.low.value(), load.reactive.low.value()});
        m_high.add(at, high, {load.real.high.value(), load.reactive.high.value()});
    }
    const InfeedId infeed = m_trace.infeeds_of(component)[0];
    const double u0 = source_at(infeed)->u0.value();
    const auto low = solve_radial(m_low, u0);
    const auto high = solve_radial(m_high, u0);
    if (!low.has_value() || !high.has_value()) {
        m_figures.infeeds[infeed.index()].no_solution = true;
        return;
    }
    store_volt_drop(component, *low, *high, u0);
}

void FigureMaker::store_volt_drop(const Component& component, const RadialSolution& low,
                                  const RadialSolution& high, double u0) {
    const auto percent = [u0](Complex voltage) {
        return Number(100.0 * (u0 - std::abs(voltage)) / u0);
    };
    InfeedFigures& infeed = m_figures.infeeds[m_trace.infeeds_of(component)[0].index()];
    infeed.design_low = Ampere(std::abs(low.current[0]));
    infeed.design_high = Ampere(std::abs(high.current[0]));
    for (const VertexId v : m_trace.vertices(component)) {
        const std::uint32_t at = m_position[v.index()];
        const base::EdgeId edge = m_trace.parent_edge[v.index()];
        if (m_trace.parent[v.index()].is_valid() && m_net.is_section(edge)) {
            m_figures.sections[edge.index()].current = Ampere(std::abs(high.current[at]));
        }
        const network::Node& n = m_net.snapped.nodes[m_net.node_of(v).index()];
        if (n.kind == NodeKind::column && m_figures.columns[n.asset].vertex == v) {
            m_figures.columns[n.asset].vdrop_low_pct = percent(low.voltage[at]);
            m_figures.columns[n.asset].vdrop_high_pct = percent(high.voltage[at]);
        }
    }
}

} // namespace loopwalk::figures
