#include "loopwalk/protection/cover.hpp"

#include <algorithm>

namespace loopwalk::protection {

using base::Maybe;
using base::Second;
using base::SectionId;
using catalogue::OperatingTime;
using figures::FedPoint;
using figures::SectionFigures;
using impedance::EarthPathState;
using impedance::Source;
using solution::MultiFeed;

SectionCover SectionCovers::of(base::SectionId id) {
    const SectionFigures& figures = m_figures.sections[id.index()];
    SectionCover cover = figures.is_multi_fed ? of_fed(id) : of_one_device(id);
    if (cover.cover == Cover::clears && figures.is_feed_unclear) {
        cover.cover = Cover::undecided;
    }
    return cover;
}

SectionCover SectionCovers::of_one_device(base::SectionId id) {
    const SectionFigures& figures = m_figures.sections[id.index()];
    if (figures.is_on_path &&
        (!figures.device.is_valid() ||
         (m_devices.is_distributors(figures.device) && !m_facts.is_councils(id)))) {
        return {Cover::no_device, {}};
    }
    if (!figures.is_on_path || !figures.has_zs ||
        m_devices.choices(figures.device).any_of.empty()) {
        return {Cover::undecided, {}};
    }
    const Source& source = *m_facts.source(figures);
    const network::Device& device = m_net.devices[figures.device.index()];
    const DeviceChoices& choice = m_devices.choices(figures.device);
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
        if (currents.certain.has_value() && u / *figures.zs_high >= *currents.certain) {
            result.cover = Cover::clears;
        }
    }
    if (figures.zs_low.has_value() && currents.possible.has_value() &&
        u / *figures.zs_low < *currents.possible) {
        result.cover = Cover::does_not_clear;
    }
    return result;
}

/// A section in such a loop at its ends, where its loop is highest, and at even steps between: the
/// time jumps where another device becomes the first to open.
SectionCover SectionCovers::of_fed(base::SectionId id) {
    const SectionFigures& figures = m_figures.sections[id.index()];
    if (const auto known = m_fed.find(id); known != m_fed.end()) {
        return known->second;
    }
    FedPoint place = m_figures.fed_sections.at(id);
    const MultiFeed& feed = *m_figures.feeds[place.feed];
    if (m_sequences.why_unjudged(feed) == Reason::no_device || !figures.has_zs) {
        return {figures.has_zs ? Cover::no_device : Cover::undecided, {}};
    }
    constexpr int kSteps = 4;
    std::vector<double> shares{place.point.share};
    for (int i = 0; i <= kSteps && place.point.section != MultiFeed::Point::kNone; ++i) {
        shares.push_back(static_cast<double>(i) / kSteps);
    }
    SectionCover worst{Cover::clears, Second(0.0)};
    for (const double share : shares) {
        place.point.share = share;
        const Side side =
            m_sequences.judge(place, m_rules.disconnection, ClearingSequences::Margin::no);
        const Cover cover = side.verdict == Verdict::fails ? Cover::does_not_clear
                            : side.clear.has_value() && *side.clear <= m_rules.disconnection
                                ? Cover::clears
                                : Cover::undecided;
        worst.cover = worst.cover == Cover::does_not_clear || cover == Cover::does_not_clear
                          ? Cover::does_not_clear
                          : std::max(worst.cover, cover);
        worst.clear = worst.clear.has_value() && side.clear.has_value()
                          ? std::max(*worst.clear, *side.clear)
                          : Maybe<Second>{};
    }
    m_fed.emplace(id, worst);
    return worst;
}

} // namespace loopwalk::protection
