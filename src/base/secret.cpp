#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <array>
#include <cctype>

namespace loopwalk::base {

namespace {

constexpr std::string_view kBlanks = " \t\r\n";
constexpr std::string_view kStars = "***";
constexpr std::array<std::string_view, 3> kKeys = {"password", "passwd", "pwd"};
/// Of addresses: what follows in a query lets whoever has it in.
constexpr std::array<std::string_view, 6> kTokens = {"token",  "apikey", "api_key",
                                                     "secret", "sig",    "signature"};

/// Position behind the value that begins at `at`: a quoted one with its quotes (a backslash guards
/// the next character), else up to the next blank.
std::size_t end_of_value(std::string_view text, std::size_t at) {
    if (at >= text.size()) {
        return text.size();
    }
    const char quote = text[at] == '\'' || text[at] == '"' ? text[at] : '\0';
    std::size_t end = quote != '\0' ? at + 1 : at;
    while (end < text.size()) {
        if (text[end] == '\\') {
            ++end;
        } else if (quote != '\0' && text[end] == quote) {
            return end + 1;
        } else if (quote == '\0' && kBlanks.find(text[end]) != std::string_view::npos) {
            return end;
        }
        ++end;
    }
    return text.size();
}

std::size_t find_key(const std::string& text, std::string_view key, std::size_t from) {
    const auto alike = [](unsigned char a, unsigned char b) { return std::tolower(a) == b; };
    const auto begin = text.begin() + static_cast<std::ptrdiff_t>(std::min(from, text.size()));
    const auto found = std::search(begin, text.end(), key.begin(), key.end(), alike);
    return found == text.end() ? std::string::npos : static_cast<std::size_t>(found - text.begin());
}

/// Stars over the value of each `key = value`.
void cover_values(std::string& text, std::string_view key) {
    for (std::size_t from = 0;;) {
        const std::size_t at = find_key(text, key, from);
        if (at == std::string::npos) {
            return;
        }
        from = at + key.size();
        const std::size_t sign = text.find_first_not_of(kBlanks, from);
        if (sign == std::string::npos || text[sign] != '=') {
            continue;
        }
        const std::size_t value = text.find_first_not_of(kBlanks, sign + 1);
        if (value == std::string::npos || text.compare(value, kStars.size(), kStars) == 0) {
            continue;
        }
        text.replace(value, end_of_value(text, value) - value, kStars);
    }
}

/// Stars over the value of each `token=value` of an address, up to the next `&`.
void cover_tokens(std::string& text, std::string_view key) {
    for (std::size_t at = find_key(text, key, 0); at != std::string::npos;
         at = find_key(text, key, at + 1)) {
        const std::size_t sign = at + key.size();
        if (sign >= text.size() || text[sign] != '=') {
            continue;
        }
        const std::size_t end = std::min(text.find_first_of("& \t\r\n\"'", sign), text.size());
        text.replace(sign + 1, end - sign - 1, kStars);
    }
}

/// `ODBC:user/password@source`.
void cover_odbc(std::string& text) {
    constexpr std::string_view kScheme = "odbc:";
    for (std::size_t at = find_key(text, kScheme, 0); at != std::string::npos;
         at = find_key(text, kScheme, at + 1)) {
        const std::size_t end = std::min(text.find_first_of(" \t\r\n", at), text.size());
        const std::size_t slash = text.find('/', at);
        const std::size_t source = text.rfind('@', end);
        if (slash < end && source != std::string::npos && source > slash) {
            text.replace(slash + 1, source - slash - 1, kStars);
        }
    }
}

void cover_addresses(std::string& text) {
    constexpr std::string_view kScheme = "://";
    for (std::size_t at = text.find(kScheme); at != std::string::npos;
         at = text.find(kScheme, at + 1)) {
        const std::size_t user = at + kScheme.size();
        const std::size_t end = std::min(text.find_first_of("/ \t\r\n", user), text.size());
        const std::size_t host = text.rfind('@', end);
        const std::size_t colon = text.find(':', user);
        if (host != std::string::npos && host > user && colon < host) {
            text.replace(colon + 1, host - colon - 1, kStars);
        }
    }
}

} // namespace

std::string without_passwords(std::string_view text) {
    std::string covered(text);
    cover_addresses(covered);
    cover_odbc(covered);
    for (const std::string_view key : kTokens) {
        cover_tokens(covered, key);
    }
    for (const std::string_view key : kKeys) {
        cover_values(covered, key);
    }
    return covered;
}

} // namespace loopwalk::base
