// Values of the job file that stand alone: numbers, texts, ranges and the `missing` table.
#pragma once

#include "read_value.hpp"

namespace loopwalk::config {

// All throw ConfigError with file and line.

[[nodiscard]] double read_number(const toml::node& node, const Place& place);    ///< finite
[[nodiscard]] std::string read_text(const toml::node& node, const Place& place); ///< not blank
/// One number, a list of numbers (its smallest and largest) or { low, high }.
[[nodiscard]] base::Bounds<base::Number> read_range(const toml::node& node, const Place& place);
/// `missing = { cable_type = ["A", "B"], length_m = { low = 10, high = 60 } }`, in field order of
/// the contract.
[[nodiscard]] std::vector<MissingValue> read_missing(const toml::node& node, const Place& place,
                                                     base::AssetLayer layer);

} // namespace loopwalk::config
