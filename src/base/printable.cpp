#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <array>

namespace loopwalk::base {
namespace {

/// A character of UTF-8: its number and its bytes; 0 bytes where there is none.
struct Character {
    std::uint32_t number = 0;
    std::size_t bytes = 0;
};

/// In as few bytes as it takes, no half of a pair of UTF-16, within Unicode (RFC 3629, clause 3).
bool is_wellformed(std::uint32_t number, std::size_t bytes) noexcept {
    constexpr std::array<std::uint32_t, 5> kLeast = {0, 0, 0x80, 0x800, 0x10000};
    return number >= kLeast.at(bytes) && (number < 0xD800 || number > 0xDFFF) && number <= 0x10FFFF;
}

Character character_at(std::string_view text, std::size_t at) noexcept {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned first = byte(at);
    if (first < 0x80) {
        return {first, 1};
    }
    const std::size_t bytes = first >= 0xF0 && first < 0xF5   ? 4
                              : first >= 0xE0 && first < 0xF0 ? 3
                              : first >= 0xC2 && first < 0xE0 ? 2
                                                              : 0;
    if (bytes == 0 || at + bytes > text.size()) {
        return {};
    }
    std::uint32_t number = first & (0xFFU >> (bytes + 1));
    for (std::size_t i = at + 1; i < at + bytes; ++i) {
        if ((byte(i) & 0xC0U) != 0x80) {
            return {};
        }
        number = (number << 6U) | (byte(i) & 0x3FU);
    }
    return is_wellformed(number, bytes) ? Character{number, bytes} : Character{};
}

struct Range {
    std::uint32_t first, last;
};
/// Unicode: C0 and C1 controls, soft hyphen, Arabic letter mark, marks of width and direction,
/// embeddings and overrides, isolates and other format characters, byte order mark, annotations,
/// tags.
constexpr std::array<Range, 11> kHarmful{{{0x00, 0x1F},
                                          {0x7F, 0x9F},
                                          {0xAD, 0xAD},
                                          {0x61C, 0x61C},
                                          {0x180E, 0x180E},
                                          {0x200B, 0x200F},
                                          {0x2028, 0x202E},
                                          {0x2060, 0x206F},
                                          {0xFEFF, 0xFEFF},
                                          {0xFFF9, 0xFFFB},
                                          {0xE0000, 0xE007F}}};

bool is_harmful(std::uint32_t number) noexcept {
    if (number == '\n' || number == '\t') {
        return false;
    }
    return std::ranges::any_of(kHarmful, [number](const Range& range) {
        return number >= range.first && number <= range.last;
    });
}

std::string hexadecimal(std::uint32_t number) {
    constexpr std::string_view kDigits = "0123456789ABCDEF";
    std::string text;
    for (; number > 0 || text.size() < 2; number >>= 4U) {
        text.insert(text.begin(), kDigits[number & 15U]);
    }
    return text;
}

} // namespace

std::string printable(std::string_view text) {
    std::string shown;
    for (std::size_t at = 0; at < text.size();) {
        const Character character = character_at(text, at);
        if (character.bytes == 0) {
            shown += "\\x" + hexadecimal(static_cast<unsigned char>(text[at++]));
            continue;
        }
        if (is_harmful(character.number)) {
            shown += character.number < 0x80 ? "\\x" + hexadecimal(character.number)
                                             : "\\u{" + hexadecimal(character.number) + "}";
        } else {
            shown += text.substr(at, character.bytes);
        }
        at += character.bytes;
    }
    return shown;
}

} // namespace loopwalk::base
