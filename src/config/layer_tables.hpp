// The tables of a layer with an entry for each field: `fields`, `units`, `values`, `missing`.
// Entries come in the field order of the contract.
#pragma once

#include "loopwalk/config/contract_fields.hpp"

#include "read_value.hpp"

namespace loopwalk::config {

// All throw ConfigError with file and line.

/// `fields = { cable_id = "ASSETREF", cable_type = ["SIZE", "KIND"], status = "" }`
/// "NAME=VALUE" in the order of the names.
[[nodiscard]] std::vector<std::string> read_open_options(const toml::node& node,
                                                         const Place& place);
[[nodiscard]] std::vector<FieldNames> read_fields(const toml::node& node, const Place& place,
                                                  base::AssetLayer layer);
/// `units = { length_m = "ft" }`
[[nodiscard]] std::vector<FieldUnit> read_units(const toml::node& node, const Place& place,
                                                base::AssetLayer layer);
/// `values = { owner = { "CC*" = "council", "?" = "" } }`
[[nodiscard]] std::vector<FieldValues> read_values(const toml::node& node, const Place& place,
                                                   base::AssetLayer layer);
/// `missing = { cable_type = ["A", "B"], length_m = { low = 10, high = 60 } }`
[[nodiscard]] std::vector<MissingValue> read_missing(const toml::node& node, const Place& place,
                                                     base::AssetLayer layer);

} // namespace loopwalk::config
