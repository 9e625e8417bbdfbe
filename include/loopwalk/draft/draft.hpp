// Drafting a job file from records nobody has described: look at all layers, guess, write it down.
// Docs: docs/draft.md.
#pragma once

#include "loopwalk/base/progress.hpp"
#include "loopwalk/draft/guess.hpp"

#include <string>
#include <vector>

namespace loopwalk::draft {

/// Profiles of all layers of the datasets, each read through once. Throws InputError for a dataset
/// that cannot be used.
[[nodiscard]] std::vector<LayerProfile> survey(const std::vector<std::string>& datasets,
                                               base::Progress& progress);

/// Files of the datasets on disk (sidecars too): a draft must not be written over them.
[[nodiscard]] std::vector<std::string> files_of(const std::vector<std::string>& datasets);

/// The job file. Paths of files become relative to `folder` (empty: the current one); what is
/// unsure stands there as comments. UTF-8.
[[nodiscard]] std::string job_text(const Draft& draft, const std::string& folder);

/// What makes every figure wrong if nobody looks at it: coordinates in degrees that no layer owns
/// up to. Sentences.
[[nodiscard]] std::vector<std::string> warnings_of(const Draft& draft);

/// What was found, a line for each layer of the contract, for the terminal.
[[nodiscard]] std::string summary_text(const Draft& draft);

} // namespace loopwalk::draft
