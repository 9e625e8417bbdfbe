// Places that several devices feed, judged as it happens: the device that is fastest with all
// closed opens first, then the fastest of the others with what is left, until nothing feeds the
// place. The times add; what a fuse has warmed up before is not counted in its favour
// (docs/method.md section 5).
#pragma once

#include "loopwalk/protection/devices.hpp"
#include "loopwalk/protection/feed_facts.hpp"
#include "loopwalk/protection/judgement.hpp"

namespace loopwalk::protection {

/// Faults that several devices feed, judged as they happen: one opens after the other.
class ClearingSequences {
  public:
    ClearingSequences(const figures::Inputs& inputs, const figures::Figures& figures,
                      const FeedFacts& facts, Devices& devices)
        : m_rules(inputs.job.rules), m_figures(figures), m_facts(facts), m_devices(devices) {}

    /// Whether the margin is worked out besides the verdict.
    enum class Margin : bool { no, yes };
    /// A fault at a place against a limit; the margin costs some sixty sequences.
    [[nodiscard]] Side judge(const figures::FedPoint& place, base::Second limit,
                             Margin margin = Margin::yes);
    /// With several supplies joined: smallest current from each alone, smallest impedance from all.
    [[nodiscard]] solution::MultiFeed::Loop loop(const figures::FedPoint& place) const;
    /// Smallest current of each device over all orders of opening; none: nothing bounds it.
    [[nodiscard]] std::vector<base::Maybe<base::Ampere>>
    least_currents(const figures::FedPoint& place);
    /// What keeps the devices of a feed from being judged; `none` if nothing does.
    [[nodiscard]] Reason why_unjudged(const solution::MultiFeed& feed);
    /// One of its sources is only assumed, and that settles nothing by the settings.
    [[nodiscard]] bool is_assumed(const solution::MultiFeed& feed) const;

  private:
    [[nodiscard]] std::vector<const DeviceChoices*> choices(const solution::MultiFeed& feed);
    [[nodiscard]] Reason why_straddling(const solution::MultiFeed& feed);

    const config::Rules& m_rules;
    const figures::Figures& m_figures;
    const FeedFacts& m_facts;
    Devices& m_devices;
};

} // namespace loopwalk::protection
