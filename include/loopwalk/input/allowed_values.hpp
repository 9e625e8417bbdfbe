// What each field of the contract may hold: coded words, numbers within a rule, rows of the
// catalogue.
#pragma once

#include "loopwalk/base/finding.hpp"

#include <cstdint>
#include <string_view>
#include <vector>

namespace loopwalk::input {

/// What a number of a field can be.
enum class NumberRule : std::uint8_t { any, not_negative, above_zero, power_factor, one_or_three };
/// Whether a number of a field can be so.
[[nodiscard]] bool admits(NumberRule rule, double value) noexcept;
/// "a number above 0": what would be right, for messages.
[[nodiscard]] std::string_view rule_text(NumberRule rule) noexcept;

/// Fields whose words are rows of the catalogue.
enum class Holds : std::uint8_t { plain, cable_type, fuse_type };

/// What a field may hold: coded words, or a number.
struct AllowedValue {
    std::vector<std::string_view> words; ///< empty: any text
    NumberRule rule = NumberRule::any;   ///< of a number
    Holds holds = Holds::plain;          ///< of a text
};

/// In the order of config::contract_fields().
[[nodiscard]] std::vector<AllowedValue> allowed_values(base::AssetLayer layer);

} // namespace loopwalk::input
