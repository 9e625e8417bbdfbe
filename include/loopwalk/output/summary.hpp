// The summary a person reads when the run is done.
#pragma once

#include "loopwalk/output/results.hpp"

#include <string>

namespace loopwalk::output {

/// Counts by verdict and feed, the ten worst circuits by disconnection margin, what to fix first,
/// and the cautions. Plain text, lines up to about 100 characters.
[[nodiscard]] std::string summary_text(const Results& results);

} // namespace loopwalk::output
