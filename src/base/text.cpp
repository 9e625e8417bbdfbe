#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <numeric>

#ifndef LOOPWALK_VERSION
#error "the build defines LOOPWALK_VERSION"
#endif

namespace loopwalk::base {

namespace {

constexpr std::string_view kWhiteSpace = " \t\r\n\v\f";

constexpr char lower(char c) noexcept {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

} // namespace

std::string_view trimmed(std::string_view text) noexcept {
    const std::size_t first = text.find_first_not_of(kWhiteSpace);
    if (first == std::string_view::npos) {
        return {};
    }
    return text.substr(first, text.find_last_not_of(kWhiteSpace) - first + 1);
}

std::string folded(std::string_view text) {
    std::string result(trimmed(text));
    std::transform(result.begin(), result.end(), result.begin(), lower);
    return result;
}

bool same_word(std::string_view a, std::string_view b) noexcept {
    const std::string_view left = trimmed(a);
    const std::string_view right = trimmed(b);
    return std::equal(left.begin(), left.end(), right.begin(), right.end(),
                      [](char x, char y) { return lower(x) == lower(y); });
}

std::size_t edit_distance(std::string_view a, std::string_view b) {
    const std::string from = folded(a);
    const std::string to = folded(b);
    std::vector<std::size_t> row(to.size() + 1); // distances of a prefix of `from` to those of `to`
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 0; i < from.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i + 1;
        for (std::size_t j = 0; j < to.size(); ++j) {
            const std::size_t replaced = diagonal + (from[i] == to[j] ? 0U : 1U);
            diagonal = row[j + 1];
            row[j + 1] = std::min({replaced, row[j] + 1, diagonal + 1});
        }
    }
    return row[to.size()];
}

std::string nearest_word(std::string_view word, const std::vector<std::string>& candidates) {
    const auto nearest = std::min_element(
        candidates.begin(), candidates.end(), [word](const std::string& a, const std::string& b) {
            return edit_distance(word, a) < edit_distance(word, b);
        });
    return nearest == candidates.end() ? std::string() : *nearest;
}

std::string quoted_sql(std::string_view text, char quote) {
    std::string result(1, quote);
    for (const char c : text) {
        result += c;
        if (c == quote) {
            result += c;
        }
    }
    return result + quote;
}

std::string joined(const std::vector<std::string>& items, std::string_view between) {
    std::string text;
    for (const std::string& item : items) {
        text += text.empty() ? "" : between;
        text += item;
    }
    return text;
}

std::string listed(const std::vector<std::string>& items, std::size_t most) {
    std::string text;
    const std::size_t shown = std::min(items.size(), most);
    for (std::size_t i = 0; i < shown; ++i) {
        text += (i == 0 ? "" : ", ") + items[i];
    }
    if (shown < items.size()) {
        text += (shown == 0 ? "" : " and ") + std::to_string(items.size() - shown) + " more";
    }
    return text;
}

std::string_view program_version() noexcept {
    return LOOPWALK_VERSION;
}

} // namespace loopwalk::base
