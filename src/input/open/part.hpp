// Reading a part of the records: the filter that each layer gets.
#pragma once

#include "loopwalk/config/config.hpp"
#include "loopwalk/input/read_layers.hpp"

#include <string>

namespace loopwalk::input {

/// Restricts every layer with places to the box or the surroundings of the area; tells which in
/// words. Precondition: the settings name one of them. Throws ConfigError if no column is of the
/// area, or if a system is not understood.
[[nodiscard]] std::string restrict_to_part(Source& source, const config::DataSettings& settings);

} // namespace loopwalk::input
