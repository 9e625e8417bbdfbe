// Everything a run found out, gathered for those who write and print it.
#pragma once

#include "loopwalk/base/finding.hpp"
#include "loopwalk/checks/standing.hpp"
#include "loopwalk/config/config.hpp"
#include "loopwalk/input/read_layers.hpp"
#include "loopwalk/survey/survey.hpp"
#include "loopwalk/trace/trace.hpp"

#include <string>
#include <vector>

namespace loopwalk::output {

struct Results {
    const config::Job& job;
    const catalogue::Catalogue& catalogue;
    const input::ReadResult& read;
    const impedance::Assumptions& assumptions;
    const network::Network& network;
    const trace::Trace& trace;
    const figures::Figures& figures;
    const checks::Review& review;
    const std::vector<survey::SurveyRow>& survey;
    const base::FindingList& findings; ///< sorted
    const checks::Standing& standing;
    const ends::CableEnds& ends;

    [[nodiscard]] const model::Layers& layers() const noexcept { return read.layers; }
};

/// The cautions that every output carries (exact strings).
[[nodiscard]] const std::vector<std::string>& cautions();

} // namespace loopwalk::output
