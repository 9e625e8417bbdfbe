// Heat in the earth path all along, for a fault at a column.
#include "heat_fault.hpp"
#include <algorithm>

namespace loopwalk::protection {

using base::Ampere;
using base::ColumnId;
using base::Maybe;
using base::SectionId;
using figures::ColumnFigures;
using figures::LargestCurrents;
using figures::SectionFigures;
using impedance::EarthPathState;
using impedance::Source;
using solution::WeakestSections;

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
    const Series devices{&device};
    const SectionFigures& figures = m_figures.sections[last.index()];
    const Source& from = *m_facts.source(column);
    const auto holds = [&](const Fault& fault, Core core, SectionId weakest) {
        return !weakest.is_valid() || check(fault, core, weakest).verdict == Verdict::meets;
    };
    const LargestCurrents& largest = figures.largest;
    bool survives = true;
    if (largest.earth_high.has_value()) {
        const Fault large = largest_fault(devices, from, {largest.earth_low, largest.earth_high},
                                          least_current(from, figures.zs_high));
        const Fault small = smallest_fault(figures, devices, from, figures.zs_low, figures.zs_high);
        for (const Fault* fault : {&small, &large}) {
            survives = survives && holds(*fault, Core::line, figures.weakest_line.low) &&
                       holds(*fault, Core::earth_path, figures.weakest_earth.low);
        }
    }
    if (largest.neutral_high.has_value()) {
        const Fault large =
            largest_fault(devices, from, {largest.neutral_low, largest.neutral_high},
                          least_current(from, figures.zn_high));
        survives = survives && holds(large, Core::line, figures.weakest_line.low) &&
                   holds(large, Core::neutral, figures.weakest_neutral.low);
    }
    return survives;
}

std::optional<HeatCheck> Heat::of_column(ColumnId id, const DeviceChoices* supposed) {
    const ColumnFigures& column = m_figures.columns[id.index()];
    if (column.is_multi_fed) {
        return of_fed_column(id);
    }
    const SectionId last = m_facts.section_to(column.vertex);
    const Source& from = *m_facts.source(column);
    if (!last.is_valid() || m_facts.is_tt(id) || !column.device.is_valid() ||
        column.earth == EarthPathState::broken) {
        return std::nullopt;
    }
    const bool is_theirs = m_devices.is_distributors(column.device);
    if (is_theirs && (!m_facts.is_councils(last) ||
                      (supposed == nullptr && m_devices.choices(column.device).any_of.empty()))) {
        return std::nullopt;
    }
    const SectionFigures& figures = m_figures.sections[last.index()];
    const Series devices = m_devices.series(column.device, supposed);
    const WeakestSections& weakest = figures.weakest_earth;
    std::optional<HeatCheck> worst;
    const auto check_path = [&](const Fault& fault) {
        for (SectionId heated : {weakest.low, weakest.high}) {
            if (is_theirs && !m_facts.is_councils(heated)) {
                heated = last; // the distributor's own cable is not ours to judge
            }
            const HeatCheck result = check(fault, Core::earth_path, heated);
            if (!worst.has_value() || is_worse(result, *worst)) {
                worst = result;
            }
        }
    };
    check_path(smallest_fault(figures, devices, from, figures.zs_low, figures.zs_high));
    check_path(largest_fault(devices, from, {figures.largest.earth_low, figures.largest.earth_high},
                             least_current(from, figures.zs_high)));
    return worst;
}

/// Tried are the largest value and one so small that the largest current is the smallest: what
/// passes between is known at each current as long as the device's table bounds it.
Heat::PsccWorth Heat::worth_of_pscc(ColumnId id) {
    const ColumnFigures& column = m_figures.columns[id.index()];
    const auto now = column.is_multi_fed ? std::nullopt : of_column(id);
    if (!now.has_value() || now->verdict != Verdict::undecided ||
        !m_facts.source(column)->pscc_missing) {
        return {};
    }
    const SectionFigures& figures = m_figures.sections[m_facts.section_to(column.vertex).index()];
    const Series devices = m_devices.series(column.device);
    Source source = *m_facts.source(column);
    const Bounded most{figures.largest.earth_low, figures.largest.earth_high};
    const Maybe<Ampere> least = least_current(source, figures.zs_high);
    const Fault any = largest_fault(devices, source, most, least);
    source.pscc_missing = false;
    const auto heated = {figures.weakest_earth.low, figures.weakest_earth.high};
    const Fault small = smallest_fault(figures, devices, source, figures.zs_low, figures.zs_high);
    const auto decides = [&](const Fault& large) {
        Verdict worst = Verdict::none;
        for (const SectionId section : heated) {
            worst = worse(worst, check(large, Core::earth_path, section).verdict);
            worst = worse(worst, check(small, Core::earth_path, section).verdict);
        }
        return worst == Verdict::meets || worst == Verdict::fails;
    };
    const bool at_most = decides(largest_fault(devices, source, most, {}));
    const bool at_least =
        least.has_value() && decides(largest_fault(devices, source, {least, least}, {}));
    const bool is_exact = devices.size() == 1 && devices[0]->any_of.size() == 1 &&
                          devices[0]->any_of[0].edges.is_own && most.low == most.high &&
                          any.passed.ambiguity == LetThroughAmbiguity::none &&
                          std::ranges::all_of(heated, [&](SectionId section) {
                              const auto& ks =
                                  withstand_of(m_cables.withstand(section), Core::earth_path);
                              return ks.is_exact() && m_trace.looped[section.index()] == 0;
                          });
    return {at_most || at_least, at_most && at_least && is_exact};
}

} // namespace loopwalk::protection
