// How far the devices before it clear a fault at the far end of a section.
#pragma once

#include "loopwalk/protection/clearing_sequence.hpp"

#include <unordered_map>

namespace loopwalk::protection {

enum class Cover : std::uint8_t { clears, does_not_clear, undecided, no_device };

struct SectionCover {
    Cover cover = Cover::no_device;
    base::Maybe<base::Second> clear; ///< longest time; absent unless it clears
};

class SectionCovers {
  public:
    SectionCovers(const figures::Inputs& inputs, const figures::Figures& figures,
                  const FeedFacts& facts, Devices& devices, ClearingSequences& sequences)
        : m_rules(inputs.job.rules), m_net(inputs.network), m_figures(figures), m_facts(facts),
          m_devices(devices), m_sequences(sequences) {}

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
