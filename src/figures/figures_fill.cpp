#include "loopwalk/figures/tt_earth.hpp"

#include "figure_maker.hpp"
#include <algorithm>
#include <cmath>

namespace loopwalk::figures {

using base::Ampere;
using base::Maybe;
using base::Number;
using base::Ohm;
using impedance::Conductors;
using impedance::EarthPathState;
using impedance::loop_impedance;
using impedance::Presence;
using impedance::smallest_loop;
using network::NodeKind;
using solution::MultiFeed;

namespace {

Maybe<Number> in_ka(const Maybe<Ampere>& current) {
    return current.has_value() ? Maybe<Number>(Number((*current).value() / 1000.0))
                               : Maybe<Number>{};
}

} // namespace

void FigureMaker::fill_section(const Path& path, VertexId v) {
    const base::EdgeId edge = m_trace.parent_edge[v.index()];
    SectionFigures& section = m_figures.sections[edge.index()];
    const Source* source = source_at(path.infeed);
    section.infeed = path.infeed;
    section.is_on_path = true;
    section.is_feed_unclear = is_feed_unclear(path, v);
    section.is_reversed = m_net.section_to[edge.index()] != v;
    section.device = path.device;
    section.way = path.way;
    section.earth = path.earth;
    if (source != nullptr) {
        fill_for_heat(section, path, *source, phases_at(path.infeed), m_rules.cmax);
    }
    if (source == nullptr || !source->has_ze || source->is_tt) {
        return;
    }
    section.has_zs = true;
    if (path.fed_at.is_valid()) {
        section.is_multi_fed = true;
        const FedPoint point = fed_point(path);
        m_figures.fed_sections.emplace(base::SectionId(edge.index()), point);
        const MultiFeed::Loop loop = m_figures.feeds[point.feed]->loop({}, point.point);
        section.zs_low = loop.zs_low;
        section.zs_high = loop.zs_high;
        return;
    }
    if (path.earth != EarthPathState::broken) {
        section.zs_low =
            loop_impedance(*source, source->ze.low, path.z.hot_low.line + path.z.hot_low.earth);
    }
    if (path.earth == EarthPathState::intact) {
        section.zs_high =
            loop_impedance(*source, source->ze.high, path.z.hot_high.line + path.z.hot_high.earth);
    }
}

void FigureMaker::fill_column(const Path& path, VertexId v) {
    const network::Node& node = m_net.snapped.nodes[m_net.node_of(v).index()];
    if (node.kind != NodeKind::column || m_figures.columns[node.asset].vertex != v) {
        return;
    }
    if (m_paths_of_columns != nullptr) {
        (*m_paths_of_columns)[node.asset] = path.z;
    }
    const Source* source = source_at(path.infeed);
    ColumnFigures& column = m_figures.columns[node.asset];
    column.infeed = path.infeed;
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
    column.earth_hot = {Ohm(path.z.hot_low.earth.real()), Ohm(path.z.hot_high.earth.real())};
    if (path.ampacity_known) {
        column.ampacity = path.ampacity;
    }
    if (path.fed_at.is_valid()) {
        column.is_multi_fed = true;
        column.weakest_earth = path.earth_path.at.low;
        m_figures.fed.emplace(ColumnId(node.asset), fed_point(path));
    }
    if (column.state == FigureState::several && path.exit_at.is_valid()) {
        fill_joined_currents(column, path);
    } else if (source != nullptr) {
        fill_currents(column, path, *source);
        if (is_tt(m_layers.columns[node.asset], source)) {
            fill_tt_band(ColumnId(node.asset), path, *source);
        } else {
            fill_reading_band(column, path, *source);
        }
    }
}

/// Several supplies: all of them feed a fault.
void FigureMaker::fill_joined_currents(ColumnFigures& column, const Path& path) const {
    const FedPoint exit = fed_point(path);
    const Path& entry = m_at[m_position[path.exit_at.index()]];
    MultiFeed::Beyond beyond;
    const auto minus = [](const Conductors& a, const Conductors& b) {
        return Conductors{a.line - b.line, a.earth - b.earth, a.neutral - b.neutral};
    };
    beyond.low = minus(path.z.cold_low, entry.z.cold_low);
    beyond.high = minus(path.z.cold_high, entry.z.cold_high);
    beyond.earth = path.earth > entry.earth ? path.earth : EarthPathState::intact;
    beyond.neutral = path.neutral != entry.neutral ? path.neutral : Presence::yes;
    const MultiFeed::Largest largest =
        m_figures.feeds[exit.feed]->largest(exit.point.vertex, beyond, m_rules.cmax);
    column.pscc_low_ka = in_ka(largest.low);
    column.pscc_high_ka = in_ka(largest.high);
}

void FigureMaker::fill_currents(ColumnFigures& column, const Path& path,
                                const Source& source) const {
    const LargestCurrents largest =
        largest_currents(path, source, phases_at(path.infeed), m_rules.cmax);
    column.pscc_low_ka = in_ka(largest.any_low);
    column.pscc_high_ka = in_ka(largest.any_high);
}

void FigureMaker::fill_reading_band(ColumnFigures& column, const Path& path, const Source& source) {
    if (!source.has_ze || !source.has_band || path.earth == EarthPathState::broken) {
        return;
    }
    column.z20_low =
        smallest_loop(source.reading_low, path.z.cold_low.line + path.z.cold_low.earth);
    if (path.earth == EarthPathState::intact) {
        column.z20_high =
            loop_impedance(source, source.ze.high, path.z.cold_high.line + path.z.cold_high.earth);
    }
}

/// What a loop test reads on TT: electrode of the source, cold line, protective conductor and local
/// electrode. A column on an electrode of its own whose cable may join it to a TN earth has no
/// band: what it reads depends on that joint.
void FigureMaker::fill_tt_band(ColumnId id, const Path& path, const Source& source) {
    ColumnFigures& column = m_figures.columns[id.index()];
    if (column.is_multi_fed || (!source.is_tt && path.earth != EarthPathState::broken)) {
        return;
    }
    TtEarthRecord record = tt_record(m_layers, m_net, m_figures, id);
    record.path_ohms = {Ohm(path.z.cold_low.earth.real()), Ohm(path.z.cold_high.earth.real())};
    const TtEarth earth = tt_earth(record);
    const base::Bounds<Ohm> at_source = source_electrode(source, m_rules);
    if (earth.low.has_value()) {
        column.z20_low =
            smallest_loop(at_source.low, path.z.cold_low.line + Complex((*earth.low).value()));
    }
    if (earth.high.has_value()) {
        column.z20_high = at_source.high + Ohm(std::abs(path.z.cold_high.line)) + *earth.high;
    }
}

} // namespace loopwalk::figures
