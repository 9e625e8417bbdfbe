#include "loopwalk/protection/heat.hpp"

#include "loopwalk/protection/let_through.hpp"

#include <algorithm>
#include <limits>

namespace loopwalk::protection {

using base::Ampere;
using base::AmpereSquaredSecond;
using base::Bounds;
using base::ColumnId;
using base::Maybe;
using base::SectionId;
using base::VertexId;
using figures::ColumnFigures;
using figures::FedPoint;
using figures::LargestCurrents;
using figures::SectionFigures;
using impedance::EarthPathState;
using impedance::Source;
using impedance::Withstand;
using solution::MultiFeed;
using solution::WeakestSections;

/// What one fault lets pass, and what stands behind its current.
struct Heat::Fault {
    LetThrough passed{AmpereSquaredSecond(0.0),
                      AmpereSquaredSecond(std::numeric_limits<double>::infinity()),
                      LetThroughAmbiguity::none};
    const DeviceChoices* device = nullptr;
    Reason no_current = Reason::none; ///< why there is no current to judge by
    bool is_largest = false;
    bool source_missing = false; ///< nothing recorded: the current is sure at neither bound
    bool source_assumed = false;
    bool is_divided = false; ///< several devices clear it: all of their heat together
};

namespace {

const Bounds<AmpereSquaredSecond>& of(const Withstand& withstand, Core core) {
    switch (core) {
    case Core::line:
        return withstand.line;
    case Core::neutral:
        return withstand.neutral;
    case Core::earth_path:
        break;
    }
    return withstand.earth;
}

bool is_worse(const HeatCheck& a, const HeatCheck& b) {
    return a.verdict != b.verdict ? a.verdict < b.verdict : a.ratio() > b.ratio();
}

} // namespace

Reason Heat::why_open(const Fault& fault, SectionId heated,
                      const Bounds<AmpereSquaredSecond>& ks) const {
    switch (fault.passed.ambiguity) {
    case LetThroughAmbiguity::too_long:
        return Reason::too_long_for_adiabatic;
    case LetThroughAmbiguity::device_unknown:
        return fault.device->any_of.empty() ? Reason::rating_missing
               : fault.device->type_missing ? Reason::type_missing
                                            : Reason::curve_missing;
    case LetThroughAmbiguity::none:
    case LetThroughAmbiguity::above_table:
        break;
    }
    const model::Cable& cable =
        m_layers.cables[m_net.snapped.sections[heated.index()].cable.index()];
    if (!ks.is_exact() && !cable.type.type.is_valid()) {
        return Reason::bounds_straddle;
    }
    if (ks.low == AmpereSquaredSecond(0.0)) {
        return Reason::withstand_missing;
    }
    if (fault.passed.high <= ks.high) {
        return Reason::armour_share;
    }
    if (fault.passed.ambiguity == LetThroughAmbiguity::above_table) {
        return Reason::i2t_missing;
    }
    return fault.device->type_missing ? Reason::type_missing : Reason::bounds_straddle;
}

HeatCheck Heat::check(const Fault& fault, Core core, SectionId heated) const {
    const Bounds<AmpereSquaredSecond>& ks = of(m_cables.withstand(heated), core);
    HeatCheck check{Verdict::undecided, Reason::none,      core,  heated,
                    fault.is_largest,   fault.passed.high, ks.low};
    // In a loop a section carries a part of the current only.
    const bool shares = m_trace.looped[heated.index()] != 0;
    const AmpereSquaredSecond certain = shares ? AmpereSquaredSecond(0.0) : fault.passed.low;
    if (fault.no_current != Reason::none) {
        check.reason = fault.no_current;
    } else if (fault.passed.high <= ks.low) {
        const bool assumed =
            fault.source_assumed && m_rules.assumed_source == config::AssumedSource::undecided;
        check.verdict = assumed ? Verdict::undecided : Verdict::meets;
        check.reason = assumed ? Reason::assumed_source : Reason::none;
    } else if (certain > ks.high && !(fault.is_largest && fault.source_missing)) {
        check.verdict = Verdict::fails;
        check.reason = Reason::too_hot;
        check.passed = certain;
        check.survived = ks.high;
    } else {
        check.reason = fault.is_divided       ? Reason::divided_current
                       : fault.source_missing ? Reason::ze_missing
                                              : why_open(fault, heated, ks);
    }
    return check;
}

Heat::Fault Heat::smallest_fault(const SectionFigures& at, const DeviceChoices& device,
                                 const Source& source, Maybe<base::Ohm> z_low,
                                 Maybe<base::Ohm> z_high) const {
    Fault fault;
    fault.device = &device;
    fault.source_missing = source.ze_missing;
    fault.source_assumed = source.ze_basis == model::Basis::assumed;
    if (!z_high.has_value() || !z_low.has_value()) {
        fault.no_current =
            at.earth == EarthPathState::unknown ? Reason::earth_unknown : Reason::ze_missing;
        return fault;
    }
    const base::Volt u = source.u0 * m_rules.cmin;
    fault.passed = let_through(device, u / *z_high, u / *z_low);
    return fault;
}

namespace {

template <class Fault>
Fault largest_fault(const DeviceChoices& device, const Source& source, Maybe<Ampere> low,
                    Maybe<Ampere> high) {
    Fault fault;
    fault.device = &device;
    fault.is_largest = true;
    fault.source_missing = source.pscc_missing;
    fault.source_assumed = source.pscc_basis == model::Basis::assumed;
    fault.passed = let_through(device, low.value_or(*high), *high);
    if (!low.has_value()) {
        fault.passed.low = AmpereSquaredSecond(0.0);
    }
    return fault;
}

} // namespace

/// At the end of a section that is nearer to the source.
LargestCurrents Heat::largest_before(SectionId id, const Source& source) const {
    const SectionFigures& figures = m_figures.sections[id.index()];
    const VertexId near =
        figures.is_reversed ? m_net.section_to[id.index()] : m_net.section_from[id.index()];
    LargestCurrents largest = m_breaking.largest_at(near, source);
    // Without a loop in this section there is no such fault in it.
    if (!figures.largest.earth_high.has_value()) {
        largest.earth_low = largest.earth_high = {};
    } else if (!figures.largest.earth_low.has_value()) {
        largest.earth_low = {};
    }
    if (!figures.largest.neutral_high.has_value()) {
        largest.neutral_low = largest.neutral_high = {};
    } else if (!figures.largest.neutral_low.has_value()) {
        largest.neutral_low = {};
    }
    return largest;
}

SectionHeat Heat::of_section(SectionId id, std::vector<HeatCheck>& problems) {
    problems.clear();
    SectionHeat worst;
    const SectionFigures& figures = m_figures.sections[id.index()];
    if (figures.is_multi_fed) {
        return of_fed_section(id, problems);
    }
    const Source* from = m_facts.source(figures);
    if (!figures.is_on_path || from == nullptr || !figures.device.is_valid() ||
        m_devices.is_distributors(figures.device)) {
        return worst;
    }
    const DeviceChoices& device = m_devices.choices(figures.device);
    const auto note = [&](const Fault& fault, Core core, SectionId heated) {
        const HeatCheck result = check(fault, core, heated);
        Verdict& verdict = core == Core::earth_path ? worst.earth_path : worst.cores;
        verdict = worse(verdict, result.verdict);
        if (result.verdict != Verdict::meets) {
            problems.push_back(result);
        }
    };
    const auto check_path = [&](const Fault& fault, Core core, const WeakestSections& weakest) {
        note(fault, core, id);
        if (weakest.low != id) {
            note(fault, core, weakest.low);
        }
        if (weakest.high != id && weakest.high != weakest.low) {
            note(fault, core, weakest.high);
        }
    };
    const LargestCurrents largest = largest_before(id, *from);
    if (largest.earth_high.has_value()) {
        const Fault small = smallest_fault(figures, device, *from, figures.zs_low, figures.zs_high);
        check_path(small, Core::line, figures.weakest_line);
        check_path(small, Core::earth_path, figures.weakest_earth);
        const auto large =
            largest_fault<Fault>(device, *from, largest.earth_low, largest.earth_high);
        note(large, Core::line, id);
        note(large, Core::earth_path, id);
    }
    if (largest.neutral_high.has_value()) {
        if (figures.zn_low.has_value()) {
            const Fault small =
                smallest_fault(figures, device, *from, figures.zn_low, figures.zn_high);
            check_path(small, Core::line, figures.weakest_line);
            check_path(small, Core::neutral, figures.weakest_neutral);
        }
        const auto large =
            largest_fault<Fault>(device, *from, largest.neutral_low, largest.neutral_high);
        note(large, Core::line, id);
        note(large, Core::neutral, id);
    }
    return worst;
}

/// Several devices: what each lets pass at any current that it may see, taken together. The square
/// of a sum of n currents is at most n times the sum of their squares.
Heat::Fault Heat::fault_from_feeds(const FedPoint& place, Maybe<Ampere> largest) {
    const MultiFeed& feed = *m_figures.feeds[place.feed];
    Fault fault;
    fault.no_current = m_sequences.why_unjudged(feed);
    if (fault.no_current == Reason::none && (!feed.is_exact() || !largest.has_value())) {
        fault.no_current = Reason::bounds_straddle;
    }
    const std::vector<Maybe<Ampere>> smallest = fault.no_current == Reason::none
                                                    ? m_sequences.least_currents(place)
                                                    : std::vector<Maybe<Ampere>>{};
    double sum = 0.0;
    for (std::size_t d = 0; d < smallest.size(); ++d) {
        if (!smallest[d].has_value()) {
            fault.no_current = Reason::ze_missing;
            return fault;
        }
        fault.device = &m_devices.choices(feed.devices()[d]);
        const LetThrough passed = let_through(*fault.device, *smallest[d], *largest);
        sum += passed.high.value();
        fault.passed.ambiguity = std::max(fault.passed.ambiguity, passed.ambiguity);
    }
    if (fault.no_current == Reason::none) {
        fault.passed.high = AmpereSquaredSecond(sum * static_cast<double>(smallest.size()));
        fault.source_assumed = m_sequences.is_assumed(feed);
        fault.is_divided = true;
    }
    return fault;
}

/// A section in a loop that several devices feed, or behind one: it carries no more than all of the
/// current, at most as much as flows into a fault at the loop itself.
SectionHeat Heat::of_fed_section(SectionId id, std::vector<HeatCheck>& problems) {
    SectionHeat worst;
    const FedPoint& place = m_figures.fed_sections.at(id);
    const MultiFeed& feed = *m_figures.feeds[place.feed];
    const Source* from = m_facts.source_of_infeed(feed.feeds().front());
    if (from == nullptr || from->is_tt) {
        return worst;
    }
    Maybe<Ampere> largest;
    for (const std::uint32_t end : feed.ends_of(place.point)) {
        const Maybe<Ampere> there = feed.largest(end, {}, m_rules.cmax).high;
        if (there.has_value() && (!largest.has_value() || *there > *largest)) {
            largest = there;
        }
    }
    const Fault fault = fault_from_feeds(place, largest);
    const auto note = [&](Core core, Verdict& verdict) {
        const HeatCheck result = check(fault, core, id);
        verdict = worse(verdict, result.verdict);
        if (result.verdict != Verdict::meets) {
            problems.push_back(result);
        }
    };
    note(Core::line, worst.cores);
    if (of(m_cables.withstand(id), Core::neutral).high > AmpereSquaredSecond(0.0)) { // it has one
        note(Core::neutral, worst.cores);
    }
    if (m_figures.sections[id.index()].earth != EarthPathState::broken) {
        note(Core::earth_path, worst.earth_path);
    }
    return worst;
}

std::optional<HeatCheck> Heat::of_fed_column(ColumnId id) {
    const ColumnFigures& column = m_figures.columns[id.index()];
    const Source& from = *m_facts.source(column);
    if (from.is_tt || column.earth == EarthPathState::broken || !column.weakest_earth.is_valid()) {
        return std::nullopt;
    }
    const Maybe<Ampere> largest =
        column.pscc_high_ka.has_value()
            ? Maybe<Ampere>(Ampere((*column.pscc_high_ka).value() * 1000.0))
            : Maybe<Ampere>{};
    const Fault fault = fault_from_feeds(m_figures.fed.at(id), largest);
    return check(fault, Core::earth_path, column.weakest_earth);
}

/// Whether all conductors on the path to a column certainly survive a fault there behind a device.
bool Heat::path_survives(ColumnId id, const DeviceChoices& device) const {
    const ColumnFigures& column = m_figures.columns[id.index()];
    const SectionId last = m_facts.section_to(column.vertex);
    if (!last.is_valid()) {
        return true;
    }
    const SectionFigures& figures = m_figures.sections[last.index()];
    const Source& from = *m_facts.source(column);
    const auto holds = [&](const Fault& fault, Core core, SectionId weakest) {
        return !weakest.is_valid() || check(fault, core, weakest).verdict == Verdict::meets;
    };
    const LargestCurrents& largest = figures.largest;
    bool survives = true;
    if (largest.earth_high.has_value()) {
        const auto large =
            largest_fault<Fault>(device, from, largest.earth_low, largest.earth_high);
        const Fault small = smallest_fault(figures, device, from, figures.zs_low, figures.zs_high);
        for (const Fault* fault : {&small, &large}) {
            survives = survives && holds(*fault, Core::line, figures.weakest_line.low) &&
                       holds(*fault, Core::earth_path, figures.weakest_earth.low);
        }
    }
    if (largest.neutral_high.has_value()) {
        const auto large =
            largest_fault<Fault>(device, from, largest.neutral_low, largest.neutral_high);
        survives = survives && holds(large, Core::line, figures.weakest_line.low) &&
                   holds(large, Core::neutral, figures.weakest_neutral.low);
    }
    return survives;
}

std::optional<HeatCheck> Heat::of_column(ColumnId id) {
    const ColumnFigures& column = m_figures.columns[id.index()];
    if (column.is_multi_fed) {
        return of_fed_column(id);
    }
    const SectionId last = m_facts.section_to(column.vertex);
    const Source& from = *m_facts.source(column);
    if (!last.is_valid() || m_facts.is_tt(id) || !column.device.is_valid() ||
        m_devices.is_distributors(column.device) || column.earth == EarthPathState::broken) {
        return std::nullopt;
    }
    const SectionFigures& figures = m_figures.sections[last.index()];
    const DeviceChoices& device = m_devices.choices(column.device);
    const WeakestSections& weakest = figures.weakest_earth;
    std::optional<HeatCheck> worst;
    const auto check_path = [&](const Fault& fault) {
        for (const SectionId heated : {weakest.low, weakest.high}) {
            const HeatCheck result = check(fault, Core::earth_path, heated);
            if (!worst.has_value() || is_worse(result, *worst)) {
                worst = result;
            }
        }
    };
    check_path(smallest_fault(figures, device, from, figures.zs_low, figures.zs_high));
    check_path(
        largest_fault<Fault>(device, from, figures.largest.earth_low, figures.largest.earth_high));
    return worst;
}

} // namespace loopwalk::protection
