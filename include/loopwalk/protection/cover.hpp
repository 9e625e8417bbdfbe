// How far the devices before it clear a fault at the far end of a section.
#pragma once

#include "loopwalk/protection/clearing_sequence.hpp"

#include <unordered_map>

namespace loopwalk::protection {

/// What becomes of a fault in a section.
enum class Cover : std::uint8_t { clears, does_not_clear, undecided, no_device };

/// Of one section, for a fault at its far end, in a loop at its highest place.
struct SectionCover {
    Cover cover = Cover::no_device;  ///< what becomes of it
    base::Maybe<base::Second> clear; ///< longest time; absent unless it clears
};

/// Judges sections; keeps what is costly.
class SectionCovers {
  public:
    SectionCovers(const figures::Inputs& inputs, const figures::Figures& figures,
                  const FeedFacts& facts, Devices& devices, ClearingSequences& sequences)
        : m_rules(inputs.job.rules), m_net(inputs.network), m_figures(figures), m_facts(facts),
          m_devices(devices), m_sequences(sequences) {}

    /// Of a section that is traced; `no_device` of any other.
    [[nodiscard]] SectionCover of(base::SectionId id);

  private:
    [[nodiscard]] SectionCover of_one_device(base::SectionId id);
    [[nodiscard]] SectionCover of_fed(base::SectionId id);

    const config::Rules& m_rules;
    const network::Network& m_net;
    const figures::Figures& m_figures;
    const FeedFacts& m_facts;
    Devices& m_devices;
    ClearingSequences& m_sequences;
    std::unordered_map<base::SectionId, SectionCover> m_fed; ///< of those judged so far
};

} // namespace loopwalk::protection
