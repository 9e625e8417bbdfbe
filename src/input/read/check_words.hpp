// The words and numbers that a job gives, against what the fields may hold. In silence a slip of
// the pen would leave the attribute as unknown as before. All throw ConfigError.
#pragma once

#include "loopwalk/catalogue/catalogue.hpp"
#include "loopwalk/config/config.hpp"

namespace loopwalk::input {

/// The `missing` entries.
void check_missing(const config::DataSettings& settings);
/// What the `values` entries stand for; types of cables and fuses are left to check_types().
void check_values(const config::DataSettings& settings);
/// Types of cables and fuses that `values` stand for are in the catalogue.
void check_types(const config::DataSettings& settings, const catalogue::Catalogue& catalogue);

} // namespace loopwalk::input
