// Signs that a file of text was damaged or cut off. For this folder only.
#pragma once

#include <istream>
#include <string>
#include <string_view>

namespace loopwalk::gis {

/// Endings, in small letters, of formats that are text.
[[nodiscard]] bool is_text_ending(std::string_view ending) noexcept;

/// Bytes of value 0; a table of separated values that ends within a quoted cell, or whose last row
/// has no end of line and fewer cells than the first; empty if there is none of these.
[[nodiscard]] std::string fault_in_text(std::istream& file, std::string_view ending);

} // namespace loopwalk::gis
