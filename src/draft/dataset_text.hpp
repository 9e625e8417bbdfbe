// How a drafted job names a dataset.
#pragma once

#include <string>

namespace loopwalk::draft {

/// A path as a job file in `folder` should name it; a connection without its password.
[[nodiscard]] std::string dataset_text(const std::string& name, const std::string& folder);

/// Lines of remarks that belong above it: where the password goes that is left out, that the name
/// is none that a job file can hold. Empty if there is nothing to say.
[[nodiscard]] std::string dataset_remarks(const std::string& name);

} // namespace loopwalk::draft
