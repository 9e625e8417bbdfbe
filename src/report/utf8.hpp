// Width of a text on a screen, as far as ids and names in records need it.
#pragma once

#include <algorithm>
#include <cstddef>
#include <string_view>

namespace loopwalk::report {

/// Characters of an UTF-8 text: bytes that do not continue a character.
[[nodiscard]] inline std::size_t shown_width(std::string_view text) {
    constexpr unsigned kContinues = 0x80U;
    constexpr unsigned kTopBits = 0xC0U;
    return static_cast<std::size_t>(std::ranges::count_if(
        text, [](char c) { return (static_cast<unsigned char>(c) & kTopBits) != kContinues; }));
}

} // namespace loopwalk::report
