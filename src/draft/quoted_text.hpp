// Text as TOML holds it: keys and values in quotes, comments on one line. TOML is UTF-8; records
// are not always.
#pragma once

#include <string>
#include <string_view>

namespace loopwalk::draft {

[[nodiscard]] bool is_utf8(std::string_view text) noexcept;
/// In quotes, what needs it escaped. Precondition: is_utf8(text).
[[nodiscard]] std::string toml_string(std::string_view text);
/// For a comment: control characters become blanks, bytes that are not UTF-8 question marks.
[[nodiscard]] std::string remark(std::string_view text);
/// A recorded text as a pattern that matches it alone, see base::matches_pattern.
[[nodiscard]] std::string pattern_of(std::string_view text);

} // namespace loopwalk::draft
