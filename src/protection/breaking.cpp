#include "loopwalk/protection/breaking.hpp"

#include <algorithm>

namespace loopwalk::protection {

using base::AssetLayer;
using base::ColumnId;
using base::DeviceId;
using base::Number;
using base::VertexId;
using figures::ColumnFigures;
using figures::LargestCurrents;
using impedance::Conductors;
using impedance::least_at_terminals;
using impedance::smallest_loop;
using impedance::Source;
using model::FuseRecord;
using network::DeviceKind;

Verdict breaking_verdict(const BreakingCase& what) noexcept {
    if (what.low_ka.has_value() && !what.pscc_missing &&
        !can_break(what.range.highest, (*what.low_ka).value())) {
        return Verdict::fails;
    }
    const bool is_read_over =
        what.read_ka.has_value() && !can_break(what.range.lowest, (*what.read_ka).value());
    if (is_read_over && !can_break(what.range.highest, (*what.read_ka).value())) {
        return Verdict::fails;
    }
    const bool holds = what.range.is_known && what.high_ka.has_value() && !is_read_over &&
                       can_break(what.range.lowest, (*what.high_ka).value());
    return holds ? Verdict::meets : Verdict::undecided;
}

LargestCurrents Breaking::largest_at_terminals(const Source& source) const {
    const Conductors& mains = source.mains.cold_low;
    const auto current = [&](base::Ohm ohms) { return source.u0 * m_rules.cmax / ohms; };
    const base::Ampere earth = current(smallest_loop(source.strongest, mains.line + mains.earth));
    const base::Ampere neutral =
        current(smallest_loop(source.strongest, mains.line + mains.neutral));
    const base::Ampere any = current(least_at_terminals(source));
    return {earth, earth, neutral, neutral, any, any};
}

LargestCurrents Breaking::largest_at(VertexId v, const Source& source) const {
    if (const base::SectionId before = m_facts.section_to(v); before.is_valid()) {
        return m_figures.sections[before.index()].largest;
    }
    return largest_at_terminals(source);
}

DeviceBreaking Breaking::of_device(DeviceId id) {
    DeviceBreaking result;
    const network::Device& device = m_net.devices[id.index()];
    const DevicePlace& place = m_devices.place(id);
    const bool is_ours = device.kind == DeviceKind::way || device.kind == DeviceKind::joint;
    const bool is_at_source = device.kind == DeviceKind::way &&
                              m_layers.supplies[m_net.ways[device.owner].supply.index()].kind !=
                                  model::SupplyKind::section_pillar;
    if (!is_ours || (!is_at_source && !place.is_reached)) {
        return result;
    }
    const auto supply = is_at_source ? std::optional(m_net.ways[device.owner].supply)
                                     : m_net.supply_of(place.infeed);
    const Source* known = supply.has_value() ? &m_figures.sources[supply->index()]
                                             : m_facts.source_of_infeed(place.infeed);
    if (known == nullptr) {
        return result; // behind a main that no substation is recorded for
    }
    const LargestCurrents largest =
        is_at_source ? largest_at_terminals(*known) : largest_at(place.vertex, *known);
    if (!largest.any_high.has_value()) {
        return result;
    }
    result.current_ka = base::Number((*largest.any_high).value() / 1000.0);
    result.supply = supply;
    result.what = {
        breaking_range(m_devices.choices(id)), {}, result.current_ka, known->pscc_missing, {}};
    if (result.what.range.is_known) {
        result.device_ka = Number(result.what.range.lowest);
    }
    if (largest.any_low.has_value()) {
        result.what.low_ka = Number((*largest.any_low).value() / 1000.0);
    }
    result.verdict = breaking_verdict(result.what);
    return result;
}

/// What the weakest of a column's fuses can break; nothing if it has none.
std::optional<BreakingRange> Breaking::cut_out_range(ColumnId id, const DeviceChoices* own) {
    const model::Column& column = m_layers.columns[id.index()];
    std::optional<BreakingRange> weakest;
    const auto consider = [&](const FuseRecord& fuse, AssetLayer layer) {
        if (fuse.word == FuseRecord::Word::none) {
            return;
        }
        const bool is_own = layer == AssetLayer::columns;
        const bool is_recorded = column.breaking_ka.has_value() && is_own;
        const BreakingRange range =
            is_recorded
                ? BreakingRange{true, (*column.breaking_ka).value(), (*column.breaking_ka).value()}
                : breaking_range(own != nullptr && is_own ? *own : m_devices.choices(fuse, layer));
        if (!weakest.has_value()) {
            weakest = range;
            return;
        }
        weakest->is_known = weakest->is_known && range.is_known;
        weakest->lowest = std::min(weakest->lowest, range.lowest);
        weakest->highest = std::min(weakest->highest, range.highest);
    };
    consider(column.fuse, AssetLayer::columns);
    for (const std::uint32_t row : m_loads.rows(id)) {
        if (!m_layers.loads[row].fuse.is_absent()) {
            consider(m_layers.loads[row].fuse, AssetLayer::loads);
        }
    }
    return weakest;
}

CutOutBreaking Breaking::of_column(ColumnId id, const DeviceChoices* own) {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    const Source& from = *m_facts.source(figures);
    const std::optional<BreakingRange> range = cut_out_range(id, own);
    CutOutBreaking result;
    if (!range.has_value()) {
        return result;
    }
    if (range->is_known) {
        result.device_ka = Number(range->lowest);
    }
    result.what = {*range, figures.pscc_low_ka, figures.pscc_high_ka, from.pscc_missing,
                   m_readings.largest_ka(id)};
    result.verdict = breaking_verdict(result.what);
    if (result.verdict == Verdict::fails) {
        result.reason = Reason::breaking_too_low;
    } else if (result.verdict == Verdict::undecided) {
        result.reason = !range->is_known    ? Reason::breaking_missing
                        : from.pscc_missing ? Reason::pscc_missing
                                            : Reason::bounds_straddle;
    }
    return result;
}

} // namespace loopwalk::protection
