#include "loopwalk/assess/figures.hpp"

#include "loopwalk/assess/loads.hpp"
#include "loopwalk/assess/volt_drop.hpp"

#include "far_end.hpp"
#include "path.hpp"
#include <algorithm>
#include <cmath>

namespace loopwalk::assess {
namespace {

using base::Ampere;
using base::Maybe;
using base::Number;
using base::Ohm;
using network::NodeKind;
using trace::Component;
using trace::Feeding;

/// Walks each component once, parents before children, and fills in what its vertices have.
class FigureMaker {
  public:
    explicit FigureMaker(const Inputs& in)
        : m_layers(in.layers), m_rules(in.job.rules), m_net(in.network), m_trace(in.trace),
          m_paths(in.layers, in.catalogue, in.job.rules, in.assumptions, in.network),
          m_loads(in.layers, in.assumptions) {
        m_figures.columns.resize(in.layers.columns.size());
        m_figures.sections.resize(in.network.snapped.sections.size());
        m_figures.roots.resize(in.network.roots.size());
        for (const model::Supply& supply : in.layers.supplies) {
            m_figures.sources.push_back(source_of(supply, in.job.rules, in.assumptions));
        }
        m_position.resize(in.network.vertex_node.size());
    }

    Figures run(base::Progress& progress) {
        progress.stage("assess", m_trace.components.size());
        mark_states();
        for (std::size_t c = 0; c < m_trace.components.size(); ++c) {
            const Component& component = m_trace.components[c];
            if (component.root_count > 0) {
                sum_up(component);
            }
            if (component.feeding == Feeding::one) {
                walk(component);
            }
            progress.step(c);
        }
        return std::move(m_figures);
    }

  private:
    [[nodiscard]] const network::Root& root_of(const Component& component) const {
        return m_net.roots[m_trace.roots_of(component)[0].index()];
    }
    [[nodiscard]] const Source* source_at(const network::Root& root) const {
        return root.way.is_valid() ? &m_figures.sources[m_net.ways[root.way.index()].supply.index()]
                                   : nullptr;
    }
    [[nodiscard]] bool is_three_phase(const network::Root& root) const;
    [[nodiscard]] ThreePhase phases_of(const network::Root& root) const {
        return is_three_phase(root) ? ThreePhase::yes : ThreePhase::no;
    }

    void mark_states();
    [[nodiscard]] FigureState state_of(const Component& component, VertexId v) const;
    void sum_up(const Component& component);
    void walk(const Component& component);
    void fill_section(const Path& path, VertexId v, const network::Root& root,
                      const Source* source);
    void fill_column(const Path& path, VertexId v, const network::Root& root, const Source* source);
    void fill_currents(ColumnFigures& column, const Path& path, const Source& source,
                       const network::Root& root) const;
    static void fill_reading_band(ColumnFigures& column, const Path& path, const Source& source);
    void solve_volt_drop(const Component& component);
    void store_volt_drop(const Component& component, const RadialSolution& low,
                         const RadialSolution& high, double u0);

    const model::Layers& m_layers;
    const config::Rules& m_rules;
    const network::Network& m_net;
    const trace::Trace& m_trace;
    PathMaker m_paths;
    LoadBook m_loads;
    Figures m_figures;
    std::vector<Path> m_at;                ///< of the component at hand, by position
    std::vector<std::uint32_t> m_position; ///< of a vertex in its component
    RadialCircuit m_low, m_high;
};

FigureState FigureMaker::state_of(const Component& component, VertexId v) const {
    switch (component.feeding) {
    case Feeding::none:
        return FigureState::not_traced;
    case Feeding::ring:
        return FigureState::looped;
    case Feeding::several:
        return FigureState::several;
    case Feeding::one:
        break;
    }
    if (m_trace.clean[v.index()] == 0) {
        return FigureState::looped;
    }
    return root_of(component).way.is_valid() ? FigureState::computed : FigureState::from_main;
}

void FigureMaker::mark_states() {
    for (std::size_t c = 0; c < m_layers.columns.size(); ++c) {
        const base::ColumnId id(c);
        ColumnFigures& column = m_figures.columns[c];
        column.vertex = trace::column_vertex(m_net, m_trace, id);
        const Component* component = trace::fed_component(m_net, m_trace, id);
        if (component == nullptr || !model::conducts(m_layers.columns[c].status)) {
            continue;
        }
        column.state = state_of(*component, column.vertex);
        if (component->feeding != Feeding::several) {
            column.root = m_trace.roots_of(*component)[0];
        }
    }
}

bool FigureMaker::is_three_phase(const network::Root& root) const {
    const network::Way& way = m_net.ways[root.way.index()];
    const bool one_phase =
        way.row.is_valid() && m_layers.ways[way.row.index()].phase != model::Phase::unknown;
    return !one_phase && m_figures.sources[way.supply.index()].is_three_phase;
}

/// Columns, load and length of everything a root's component holds. Where ways of one supply are
/// joined, each of them feeds all of it.
void FigureMaker::sum_up(const Component& component) {
    RootFigures sum;
    sum.loops = component.loops;
    double metres = 0.0;
    for (const VertexId v : m_trace.vertices(component)) {
        const base::NodeId node = m_net.node_of(v);
        const network::Node& n = m_net.snapped.nodes[node.index()];
        if (n.kind == NodeKind::column && v.index() == node.index()) {
            ++sum.columns;
            sum.load += m_loads.of(base::ColumnId(n.asset)).real;
        }
        const VertexId parent = m_trace.parent[v.index()];
        const base::EdgeId edge = m_trace.parent_edge[v.index()];
        if (parent.is_valid() && m_net.is_section(edge)) {
            metres += section_length(m_layers, m_net.snapped.sections[edge.index()]).value();
        }
    }
    sum.length = base::Metre(metres);
    for (const RootId root : m_trace.roots_of(component)) {
        m_figures.roots[root.index()] = sum;
    }
}

void FigureMaker::walk(const Component& component) {
    const RootId root_id = m_trace.roots_of(component)[0];
    const network::Root& root = m_net.roots[root_id.index()];
    const Source* source = source_at(root);
    m_at.clear();
    for (const VertexId v : m_trace.vertices(component)) {
        m_position[v.index()] = static_cast<std::uint32_t>(m_at.size());
        const VertexId parent = m_trace.parent[v.index()];
        const base::EdgeId edge = m_trace.parent_edge[v.index()];
        if (parent.is_valid() && m_net.is_section(edge)) {
            m_figures.sections[edge.index()].root = root_id;
        }
        if (m_trace.clean[v.index()] == 0) {
            m_at.emplace_back();
            continue;
        }
        m_at.push_back(parent.is_valid()
                           ? m_paths.step(m_at[m_position[parent.index()]], parent, v, edge)
                           : m_paths.start(root, source));
        if (parent.is_valid() && m_net.is_section(edge)) {
            fill_section(m_at.back(), v, root, source);
        }
        fill_column(m_at.back(), v, root, source);
    }
    if (source != nullptr && component.loops == 0 && !is_three_phase(root)) {
        solve_volt_drop(component);
    }
}

void FigureMaker::fill_section(const Path& path, VertexId v, const network::Root& root,
                               const Source* source) {
    const base::EdgeId edge = m_trace.parent_edge[v.index()];
    SectionFigures& section = m_figures.sections[edge.index()];
    section.is_on_path = true;
    section.is_reversed = m_net.section_to[edge.index()] != v;
    section.device = path.device;
    section.way = path.way;
    section.earth = path.earth;
    if (source != nullptr) {
        fill_for_heat(section, path, *source, phases_of(root), m_rules.cmax);
    }
    if (source == nullptr || !source->has_ze || source->is_tt) {
        return;
    }
    section.has_zs = true;
    if (path.earth != EarthPathState::broken) {
        section.zs_low =
            loop_impedance(*source, source->ze.low, path.z.hot_low.line + path.z.hot_low.earth);
    }
    if (path.earth == EarthPathState::intact) {
        section.zs_high =
            loop_impedance(*source, source->ze.high, path.z.hot_high.line + path.z.hot_high.earth);
    }
}

void FigureMaker::fill_column(const Path& path, VertexId v, const network::Root& root,
                              const Source* source) {
    const network::Node& node = m_net.snapped.nodes[m_net.node_of(v).index()];
    if (node.kind != NodeKind::column || m_figures.columns[node.asset].vertex != v) {
        return;
    }
    ColumnFigures& column = m_figures.columns[node.asset];
    column.earth = path.earth;
    column.through_column = path.through_column;
    column.missing = path.missing;
    column.nearest_way = path.way;
    column.device = path.device;
    column.upstream = path.upstream;
    column.hops = path.hops;
    column.run = base::Metre(path.run_m);
    column.loop_low = path.z.hot_low.line + path.z.hot_low.earth;
    column.loop_high = path.z.hot_high.line + path.z.hot_high.earth;
    if (path.ampacity_known) {
        column.ampacity = path.ampacity;
    }
    if (source != nullptr) {
        fill_currents(column, path, *source, root);
        fill_reading_band(column, path, *source);
    }
}

void FigureMaker::fill_currents(ColumnFigures& column, const Path& path, const Source& source,
                                const network::Root& root) const {
    const auto ka = [](Maybe<Ampere> current) {
        return current.has_value() ? Maybe<Number>(Number((*current).value() / 1000.0))
                                   : Maybe<Number>{};
    };
    const LargestCurrents largest = largest_currents(path, source, phases_of(root), m_rules.cmax);
    column.pscc_low_ka = ka(largest.any_low);
    column.pscc_high_ka = ka(largest.any_high);
}

void FigureMaker::fill_reading_band(ColumnFigures& column, const Path& path, const Source& source) {
    if (!source.has_ze || source.is_tt || path.earth == EarthPathState::broken) {
        return;
    }
    column.z20_low =
        smallest_loop(source.reading_low, path.z.cold_low.line + path.z.cold_low.earth);
    if (path.earth == EarthPathState::intact) {
        column.z20_high =
            loop_impedance(source, source.ze.high, path.z.cold_high.line + path.z.cold_high.earth);
    }
}

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
    const RootId root = m_trace.roots_of(component)[0];
    const double u0 = source_at(m_net.roots[root.index()])->u0.value();
    const auto low = solve_radial(m_low, u0);
    const auto high = solve_radial(m_high, u0);
    if (!low.has_value() || !high.has_value()) {
        m_figures.roots[root.index()].no_solution = true;
        return;
    }
    store_volt_drop(component, *low, *high, u0);
}

void FigureMaker::store_volt_drop(const Component& component, const RadialSolution& low,
                                  const RadialSolution& high, double u0) {
    const auto percent = [u0](Complex voltage) {
        return Number(100.0 * (u0 - std::abs(voltage)) / u0);
    };
    RootFigures& root = m_figures.roots[m_trace.roots_of(component)[0].index()];
    root.design_low = Ampere(std::abs(low.current[0]));
    root.design_high = Ampere(std::abs(high.current[0]));
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

} // namespace

Figures compute_figures(const Inputs& inputs, base::Progress& progress) {
    return FigureMaker(inputs).run(progress);
}

} // namespace loopwalk::assess
