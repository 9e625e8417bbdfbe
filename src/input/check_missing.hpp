// The `missing` entries of a job against what the fields may hold.
#pragma once

#include "loopwalk/config/config.hpp"

namespace loopwalk::input {

/// Throws ConfigError for a word that the field does not know or a number that it cannot hold: in
/// silence it would leave the attribute as unknown as before.
void check_missing(const config::DataSettings& settings);

} // namespace loopwalk::input
