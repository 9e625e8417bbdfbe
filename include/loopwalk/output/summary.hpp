// The summary that a person, or a nightly job, reads when the run is done.
#pragma once

#include "loopwalk/output/results.hpp"

#include <string>

namespace loopwalk::output {

/// Counts by verdict and feed and why columns are undecided, the ten worst circuits by
/// disconnection margin, what to survey and to fix first, and the cautions. Plain text, lines up to
/// about 100 characters.
[[nodiscard]] std::string summary_text(const Results& results);

/// The same for machines: one JSON object (RFC 8259, UTF-8). `output`: where the layers lie.
[[nodiscard]] std::string summary_json(const Results& results, const std::string& output);

} // namespace loopwalk::output
