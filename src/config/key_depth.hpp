// How many parts the longest dotted key of a TOML text has. For this folder only.
#pragma once

#include <cstddef>
#include <string_view>

namespace loopwalk::config {

struct DeepestKey {
    std::size_t parts = 0;
    std::size_t line = 0; ///< counted from 1
};

/// Strings and comments are passed over. toml++ nests one table for each part and takes them apart
/// by recursion, so a key of many thousand parts would exhaust the stack: measured before parsing.
[[nodiscard]] DeepestKey deepest_key(std::string_view text) noexcept;

} // namespace loopwalk::config
