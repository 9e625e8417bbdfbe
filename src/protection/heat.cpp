#include "heat_fault.hpp"
#include <algorithm>

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
    const Bounds<AmpereSquaredSecond>& ks = withstand_of(m_cables.withstand(heated), core);
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
        check.reason = fault.is_divided        ? Reason::divided_current
                       : !fault.source_missing ? why_open(fault, heated, ks)
                       : fault.is_largest      ? Reason::pscc_missing
                                               : Reason::ze_missing;
    }
    return check;
}

Maybe<Ampere> Heat::least_current(const Source& source, Maybe<base::Ohm> z_high) const {
    return z_high.has_value() ? Maybe<Ampere>(source.u0 * m_rules.cmin / *z_high) : Maybe<Ampere>{};
}

/// Of devices in series the current runs through all: the least that one of them lets pass counts.
void Heat::let_pass(Fault& fault, const Series& devices, Ampere low, Ampere high) {
    fault.device = devices.front();
    fault.passed = let_through(*devices.front(), low, high);
    for (const DeviceChoices* device : devices) {
        const LetThrough passed = let_through(*device, low, high);
        const AmpereSquaredSecond least = std::min(passed.low, fault.passed.low);
        if (passed.high < fault.passed.high) {
            fault.device = device;
            fault.passed = passed;
        }
        fault.passed.low = least;
    }
}

Heat::Fault Heat::smallest_fault(const SectionFigures& at, const Series& devices,
                                 const Source& source, Maybe<base::Ohm> z_low,
                                 Maybe<base::Ohm> z_high) const {
    Fault fault;
    fault.device = devices.front();
    fault.source_missing = source.ze_missing;
    fault.source_assumed = source.ze_basis == model::Basis::assumed;
    if (!z_high.has_value() || !z_low.has_value()) {
        fault.no_current =
            at.earth == EarthPathState::unknown ? Reason::earth_unknown : Reason::ze_missing;
        return fault;
    }
    const base::Volt u = source.u0 * m_rules.cmin;
    let_pass(fault, devices, u / *z_high, u / *z_low);
    return fault;
}

/// `least`: smallest current of such a fault. A source whose prospective current is not on record
/// may be weaker than its conventional maximum, and a fuse lets more heat pass at less current:
/// every current down to there counts.
Heat::Fault Heat::largest_fault(const Series& devices, const Source& source, const Bounded& current,
                                Maybe<Ampere> least) {
    Fault fault;
    fault.device = devices.front();
    fault.is_largest = true;
    fault.source_missing = source.pscc_missing;
    const Ampere high = *current.high;
    if (source.pscc_missing && !least.has_value()) {
        fault.no_current = Reason::pscc_missing;
        return fault;
    }
    const Ampere low = source.pscc_missing ? std::min(*least, high) : current.low.value_or(high);
    let_pass(fault, devices, low, high);
    if (!current.low.has_value()) {
        fault.passed.low = AmpereSquaredSecond(0.0);
    }
    return fault;
}

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
    if (!figures.is_on_path || from == nullptr || !figures.device.is_valid()) {
        return worst;
    }
    const bool is_theirs = m_devices.is_distributors(figures.device);
    if (is_theirs &&
        (!m_facts.is_councils(id) || m_devices.choices(figures.device).any_of.empty())) {
        return worst;
    }
    const auto is_asked =
        [&](SectionId heated) { // the distributor's own cable is not ours to judge
            return heated.is_valid() && (!is_theirs || m_facts.is_councils(heated));
        };
    const Series devices = m_devices.series(figures.device);
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
        if (weakest.low != id && is_asked(weakest.low)) {
            note(fault, core, weakest.low);
        }
        if (weakest.high != id && weakest.high != weakest.low && is_asked(weakest.high)) {
            note(fault, core, weakest.high);
        }
    };
    const LargestCurrents largest = largest_before(id, *from);
    if (largest.earth_high.has_value()) {
        const Fault small =
            smallest_fault(figures, devices, *from, figures.zs_low, figures.zs_high);
        check_path(small, Core::line, figures.weakest_line);
        check_path(small, Core::earth_path, figures.weakest_earth);
        const Fault large = largest_fault(devices, *from, {largest.earth_low, largest.earth_high},
                                          least_current(*from, figures.zs_high));
        note(large, Core::line, id);
        note(large, Core::earth_path, id);
    }
    if (largest.neutral_high.has_value()) {
        if (figures.zn_low.has_value()) {
            const Fault small =
                smallest_fault(figures, devices, *from, figures.zn_low, figures.zn_high);
            check_path(small, Core::line, figures.weakest_line);
            check_path(small, Core::neutral, figures.weakest_neutral);
        }
        const Fault large =
            largest_fault(devices, *from, {largest.neutral_low, largest.neutral_high},
                          least_current(*from, figures.zn_high));
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
    if (withstand_of(m_cables.withstand(id), Core::neutral).high >
        AmpereSquaredSecond(0.0)) { // it has one
        note(Core::neutral, worst.cores);
    }
    if (m_figures.sections[id.index()].earth != EarthPathState::broken) {
        note(Core::earth_path, worst.earth_path);
    }
    return worst;
}

} // namespace loopwalk::protection
