#include "loopwalk/protection/judge.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/box_index.hpp"

#include <algorithm>
#include <unordered_map>

namespace loopwalk::protection {

using base::AssetLayer;
using base::Second;
using figures::FigureState;
using impedance::ArmourBond;
using impedance::Conductors;
using impedance::EarthPathState;
using impedance::least_at_terminals;
using impedance::per_km;
using impedance::smallest_loop;
using model::Owner;
using model::StatedFeed;
using network::DeviceKind;

std::string_view verdict_name(Verdict v) noexcept {
    switch (v) {
    case Verdict::fails:
        return "fails";
    case Verdict::undecided:
        return "undecided";
    case Verdict::meets:
        return "meets";
    case Verdict::not_traced:
        return "not traced";
    case Verdict::not_ours:
        return "not ours";
    case Verdict::none:
        return "";
    }
    return "";
}

std::string_view clear_state_name(ClearState s) noexcept {
    switch (s) {
    case ClearState::clears:
        return "clears";
    case ClearState::not_within_table:
        return "not within table";
    case ClearState::not_computed:
        return "not computed";
    }
    return "";
}

Verdict worse(Verdict a, Verdict b) noexcept {
    return std::min(a, b);
}

Judge::Judge(const Inputs& in, const Figures& figures)
    : m_layers(in.layers), m_rules(in.job.rules), m_assumptions(in.assumptions), m_net(in.network),
      m_trace(in.trace), m_figures(figures), m_book(in.catalogue, in.assumptions),
      m_loads(in.layers, in.assumptions), m_places(device_places(in.network, in.trace)) {
    for (const catalogue::CableType& type : in.catalogue.cables()) {
        m_tails.push_back(per_km(type, in.job.rules.armour_ac_factor));
        m_unbonded.push_back(
            per_km(type, in.job.rules.armour_ac_factor, ArmourBond::not_bonded).withstand);
    }
    std::unordered_map<base::TextId, ColumnId> ids;
    if (!in.layers.readings.empty()) {
        for (std::size_t c = 0; c < in.layers.columns.size(); ++c) {
            ids.emplace(in.layers.columns[c].id, ColumnId(c));
        }
    }
    for (std::uint32_t r = 0; r < in.layers.readings.size(); ++r) {
        const model::Reading& row = in.layers.readings[r];
        const auto column = ids.find(row.asset_id);
        if ((!row.has_layer || row.asset_layer == AssetLayer::columns) && column != ids.end()) {
            m_readings.add(column->second, r);
        }
    }
    m_readings.freeze();
    mark_near_mains(in.job.network.reach);
}

void Judge::mark_near_mains(base::Metre reach) {
    std::vector<base::Box> boxes;
    std::vector<std::pair<base::Point2, base::Point2>> segments;
    for (const model::Main& main : m_layers.mains) {
        for (const base::Polyline& line : main.lines) {
            for (std::size_t i = 1; i < line.size(); ++i) {
                segments.emplace_back(line[i - 1], line[i]);
                boxes.push_back(base::box_of(std::span(line).subspan(i - 1, 2)));
            }
        }
    }
    if (boxes.empty()) {
        return;
    }
    m_near_main.resize(m_layers.columns.size());
    const gis::BoxIndex index(boxes);
    std::vector<std::uint32_t> found;
    for (std::size_t c = 0; c < m_layers.columns.size(); ++c) {
        const model::Column& column = m_layers.columns[c];
        if (!column.has_place || m_figures.columns[c].state != FigureState::not_traced) {
            continue;
        }
        const double r = reach.value();
        const base::Point2 p = column.place;
        index.query({p.x - r, p.y - r, p.x + r, p.y + r}, found);
        m_near_main[c] = std::ranges::any_of(found, [&](std::uint32_t s) {
            return base::nearest_on_segment(p, segments[s].first, segments[s].second).distance <= r;
        });
    }
}

std::span<const std::uint32_t> Judge::readings(ColumnId id) const {
    return m_readings.of(id);
}

const Source* Judge::source(const ColumnFigures& column) const {
    return column.infeed.is_valid() ? source_of_infeed(column.infeed) : nullptr;
}

const Source* Judge::source_of_infeed(base::InfeedId infeed) const {
    return m_figures.source_of(m_net, infeed);
}

const Source* Judge::source(const SectionFigures& section) const {
    return section.infeed.is_valid() ? source_of_infeed(section.infeed) : nullptr;
}

base::SectionId Judge::section_to(VertexId v) const {
    while (m_trace.parent[v.index()].is_valid()) {
        const base::EdgeId edge = m_trace.parent_edge[v.index()];
        if (m_net.is_section(edge)) {
            return base::SectionId(edge.index());
        }
        v = m_trace.parent[v.index()];
    }
    return {};
}

bool Judge::is_distributors(DeviceId id) const {
    return id.is_valid() && m_net.devices[id.index()].kind == DeviceKind::distributor;
}

bool Judge::is_tt(ColumnId id) const {
    const Source* from = source(m_figures.columns[id.index()]);
    return m_layers.columns[id.index()].earthing == model::Earthing::tt ||
           (from != nullptr && from->is_tt);
}

const DeviceChoices& Judge::choices(DeviceId id) {
    const network::Device& device = m_net.devices[id.index()];
    switch (device.kind) {
    case DeviceKind::way: {
        const network::Way& way = m_net.ways[device.owner];
        const bool of_row =
            way.row.is_valid() && device.fuse == m_layers.ways[way.row.index()].fuse;
        return m_book.of(device.fuse, of_row ? AssetLayer::ways : AssetLayer::supplies);
    }
    case DeviceKind::joint:
        return m_book.of(device.fuse, AssetLayer::joints);
    case DeviceKind::cut_out:
        return m_book.of(device.fuse, AssetLayer::columns);
    case DeviceKind::distributor:
        return m_book.of(device.fuse, AssetLayer::supplies);
    }
    throw base::InternalError("device kind out of range");
}

bool Judge::is_on_main(const ColumnFigures& figures) const {
    return figures.infeed.is_valid() && m_net.main_of(figures.infeed).has_value() &&
           !figures.device.is_valid() && !figures.is_multi_fed;
}

Second Judge::in_limit(ColumnId id) const {
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

/// By the infeed of the path; where no path was found, by what is stated or lies near.
Feed Judge::feed(ColumnId id) const {
    const model::Column& column = m_layers.columns[id.index()];
    const ColumnFigures& figures = m_figures.columns[id.index()];
    if (figures.state == FigureState::several) {
        return {FeedKind::several, FeedBasis::traced};
    }
    if (figures.state != FigureState::not_traced) {
        const auto supply = m_net.supply_of(figures.infeed);
        if (supply.has_value() &&
            !model::is_distributors(m_layers.supplies[supply->index()].kind)) {
            return {FeedKind::pillar, FeedBasis::traced};
        }
        return {figures.through_column ? FeedKind::column : FeedKind::main, FeedBasis::traced};
    }
    const bool has_cable = figures.vertex.is_valid() && m_trace.find(figures.vertex) != nullptr;
    if (!has_cable && (column.owner == Owner::distributor || column.feed == StatedFeed::main)) {
        return {FeedKind::main, FeedBasis::stated};
    }
    if (!has_cable && column.feed == StatedFeed::none && column.owner != Owner::council &&
        !m_near_main.empty() && m_near_main[id.index()] != 0) {
        return {FeedKind::main, FeedBasis::nearest_main};
    }
    return {};
}

Judge::SectionCover Judge::section(base::SectionId id) {
    const SectionFigures& figures = m_figures.sections[id.index()];
    if (figures.is_multi_fed) {
        return fed_section(id);
    }
    if (figures.is_on_path && (!figures.device.is_valid() || is_distributors(figures.device))) {
        return {Cover::no_device, {}};
    }
    if (!figures.is_on_path || !figures.has_zs) {
        return {Cover::undecided, {}};
    }
    const Source& source = *source_of_infeed(figures.infeed);
    const network::Device& device = m_net.devices[figures.device.index()];
    const DeviceChoices& choice = choices(figures.device);
    const LimitCurrents currents =
        limit_currents(choice, device.limit.value_or(m_rules.disconnection));
    const base::Volt u = source.u0 * m_rules.cmin;
    SectionCover result{Cover::undecided, {}};
    if (figures.earth == EarthPathState::broken) {
        result.cover = Cover::does_not_clear;
        return result;
    }
    if (figures.zs_high.has_value()) {
        const auto time = longest_time(choice, u / *figures.zs_high);
        if (time.state == catalogue::TimeState::clears) {
            result.clear = time.time;
        }
        if (currents.surely.has_value() && u / *figures.zs_high >= *currents.surely) {
            result.cover = Cover::clears;
        }
    }
    if (figures.zs_low.has_value() && currents.possibly.has_value() &&
        u / *figures.zs_low < *currents.possibly) {
        result.cover = Cover::does_not_clear;
    }
    return result;
}

Judge::Ampacity Judge::ampacity(base::SectionId id) const {
    const model::Cable& cable = m_layers.cables[m_net.snapped.sections[id.index()].cable.index()];
    const CablePerKm& type =
        cable.type.type.is_valid() ? m_tails[cable.type.type.index()] : m_assumptions.missing_cable;
    return {type.ampacity, type.ampacity_high};
}

LargestCurrents Judge::largest_at_terminals(const Source& source) const {
    const Conductors& mains = source.mains.cold_low;
    const auto current = [&](base::Ohm ohms) { return source.u0 * m_rules.cmax / ohms; };
    const base::Ampere earth = current(smallest_loop(source.strongest, mains.line + mains.earth));
    const base::Ampere neutral =
        current(smallest_loop(source.strongest, mains.line + mains.neutral));
    const base::Ampere any = current(least_at_terminals(source));
    return {earth, earth, neutral, neutral, any, any};
}

LargestCurrents Judge::largest_at(VertexId v, const Source& source) const {
    if (const base::SectionId before = section_to(v); before.is_valid()) {
        return m_figures.sections[before.index()].largest;
    }
    return largest_at_terminals(source);
}

Judge::Breaking Judge::device_breaking(DeviceId id) {
    Breaking result;
    const network::Device& device = m_net.devices[id.index()];
    const DevicePlace& place = m_places[id.index()];
    const bool is_ours = device.kind == DeviceKind::way || device.kind == DeviceKind::joint;
    const bool is_at_source = device.kind == DeviceKind::way &&
                              m_layers.supplies[m_net.ways[device.owner].supply.index()].kind !=
                                  model::SupplyKind::section_pillar;
    if (!is_ours || (!is_at_source && !place.is_reached)) {
        return result;
    }
    const auto supply = is_at_source ? std::optional(m_net.ways[device.owner].supply)
                                     : m_net.supply_of(place.infeed);
    const Source* known =
        supply.has_value() ? &m_figures.sources[supply->index()] : source_of_infeed(place.infeed);
    if (known == nullptr) {
        return result; // behind a main that no substation is recorded for
    }
    const Source& source = *known;
    const LargestCurrents largest =
        is_at_source ? largest_at_terminals(source) : largest_at(place.vertex, source);
    if (!largest.any_high.has_value()) {
        return result;
    }
    result.current_ka = base::Number((*largest.any_high).value() / 1000.0);
    result.supply = supply;
    const BreakingRange range = breaking_range(choices(id));
    result.verdict = Verdict::undecided;
    if (!range.is_known) {
        return result;
    }
    result.device_ka = base::Number(range.lowest);
    const bool assumed = source.pscc_basis == model::Basis::assumed &&
                         m_rules.assumed_source == config::AssumedSource::undecided;
    if (can_break(range.lowest, (*result.current_ka).value())) {
        result.verdict = assumed ? Verdict::undecided : Verdict::meets;
    } else if (largest.any_low.has_value() && !source.pscc_missing &&
               !can_break(range.highest, (*largest.any_low).value() / 1000.0)) {
        result.verdict = Verdict::fails;
    }
    return result;
}

} // namespace loopwalk::protection
