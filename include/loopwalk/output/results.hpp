// Everything a run found out, gathered for those who write and print it.
#pragma once

#include "loopwalk/base/finding.hpp"
#include "loopwalk/checks/standing.hpp"
#include "loopwalk/config/config.hpp"
#include "loopwalk/input/read_layers.hpp"
#include "loopwalk/survey/survey.hpp"
#include "loopwalk/suspects/suspects.hpp"
#include "loopwalk/trace/trace.hpp"

#include <string>
#include <vector>

namespace loopwalk::output {

/// Everything that is written of a run; holds references only.
struct Results {
    const config::Job& job;                         ///< with all settings
    const catalogue::Catalogue& catalogue;          ///< the tables of the run
    const input::ReadResult& read;                  ///< the records
    const impedance::Assumptions& assumptions;      ///< what stood for missing records
    const network::Network& network;                ///< the snapped one
    const trace::Trace& trace;                      ///< what feeds what
    const figures::Figures& figures;                ///< impedances and currents
    const checks::Review& review;                   ///< verdicts and sums
    const std::vector<survey::SurveyRow>& survey;   ///< ranked
    const std::vector<suspects::Suspect>& suspects; ///< by way, ranked
    const base::FindingList& findings;              ///< sorted
    const checks::Standing& standing;               ///< what findings mean for assets
    const ends::CableEnds& ends;                    ///< of cables at assets

    /// The records as read.
    [[nodiscard]] const model::Layers& layers() const noexcept { return read.layers; }
};

/// The cautions that every output carries (exact strings).
[[nodiscard]] const std::vector<std::string>& cautions();

} // namespace loopwalk::output
