#include "quoted_text.hpp"

#include "loopwalk/base/error.hpp"

#include <algorithm>
#include <array>

namespace loopwalk::draft {

namespace {

unsigned char byte_of(char c) {
    return static_cast<unsigned char>(c);
}

bool is_control(char c) {
    constexpr unsigned char kBlank = 0x20;
    constexpr unsigned char kDelete = 0x7f;
    return byte_of(c) < kBlank || byte_of(c) == kDelete;
}

bool is_continuation(char c) {
    return (byte_of(c) & 0xc0U) == 0x80U;
}

/// Code point of a sequence that is_utf8 looks at, without the marks of its first byte.
std::uint32_t decoded(std::string_view sequence, std::uint32_t first) {
    std::uint32_t code = first;
    for (const char c : sequence.substr(1)) {
        code = (code << 6U) | (byte_of(c) & 0x3fU);
    }
    return code;
}

/// Bytes of the well-formed sequence at the beginning; 0 if there is none.
std::size_t sequence_length(std::string_view text) noexcept {
    struct Form {
        std::uint32_t mask, mark, least; ///< of the first byte; smallest code point
    };
    constexpr std::array kForms{Form{0x80, 0x00, 0}, Form{0xe0, 0xc0, 0x80},
                                Form{0xf0, 0xe0, 0x800}, Form{0xf8, 0xf0, 0x10000}};
    std::size_t length = 0;
    for (const Form& form : kForms) {
        ++length;
        const std::uint32_t first = byte_of(text.front());
        if ((first & form.mask) != form.mark) {
            continue;
        }
        const std::string_view sequence = text.substr(0, length);
        if (sequence.size() < length ||
            !std::all_of(sequence.begin() + 1, sequence.end(), is_continuation)) {
            return 0;
        }
        const std::uint32_t code = decoded(sequence, first & ~form.mask);
        const bool is_surrogate = code >= 0xd800 && code <= 0xdfff;
        return code >= form.least && code <= 0x10ffff && !is_surrogate ? length : 0;
    }
    return 0;
}

} // namespace

bool is_utf8(std::string_view text) noexcept {
    while (!text.empty()) {
        const std::size_t length = sequence_length(text);
        if (length == 0) {
            return false;
        }
        text.remove_prefix(length);
    }
    return true;
}

std::string toml_string(std::string_view text) {
    LW_ASSERT(is_utf8(text));
    constexpr std::string_view kDigits = "0123456789ABCDEF";
    std::string result = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') {
            result += {'\\', c};
        } else if (is_control(c)) {
            result += "\\u00";
            result += {kDigits[byte_of(c) / 16U], kDigits[byte_of(c) % 16U]};
        } else {
            result += c;
        }
    }
    return result + '"';
}

std::string remark(std::string_view text) {
    std::string result;
    while (!text.empty()) {
        const std::size_t length = sequence_length(text);
        if (length == 0) {
            result += '?';
        } else if (length == 1 && is_control(text.front())) {
            result += ' ';
        } else {
            result += text.substr(0, length);
        }
        text.remove_prefix(std::max<std::size_t>(length, 1));
    }
    return result;
}

std::string pattern_of(std::string_view text) {
    std::string result;
    for (const char c : text) {
        if (c == '*' || c == '?') {
            result += {'[', c, ']'};
        } else {
            result += c;
        }
    }
    return result;
}

} // namespace loopwalk::draft
