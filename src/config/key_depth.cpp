#include "key_depth.hpp"

#include <algorithm>

namespace loopwalk::config {
namespace {

/// Position behind the string that begins at `at`; of a single-line one, the end of the line at
/// the latest.
std::size_t behind_string(std::string_view text, std::size_t at) noexcept {
    const char quote = text[at];
    const std::string_view triple = quote == '"' ? R"(""")" : "'''";
    const bool is_long = text.substr(at, 3) == triple;
    std::size_t end = at + (is_long ? 3 : 1);
    for (; end < text.size(); ++end) {
        if (quote == '"' && text[end] == '\\') {
            ++end;
        } else if (is_long && text.substr(end, 3) == triple) {
            return end + 3;
        } else if (!is_long && (text[end] == quote || text[end] == '\n')) {
            return text[end] == quote ? end + 1 : end;
        }
    }
    return text.size();
}

bool ends_key(char letter) noexcept {
    return std::string_view("\n=,{}[]").find(letter) != std::string_view::npos;
}

} // namespace

DeepestKey deepest_key(std::string_view text) noexcept {
    DeepestKey deepest;
    std::size_t parts = 1;
    std::size_t line = 1;
    for (std::size_t at = 0; at < text.size();) {
        std::size_t next = at + 1;
        const char letter = text[at];
        if (letter == '"' || letter == '\'') {
            next = behind_string(text, at);
        } else if (letter == '#') {
            next = std::min(text.find('\n', at), text.size());
        } else if (letter == '.') {
            ++parts;
        } else if (ends_key(letter)) {
            parts = 1;
        }
        if (parts > deepest.parts) {
            deepest = {parts, line};
        }
        for (; at < next && at < text.size(); ++at) {
            line += text[at] == '\n' ? 1U : 0U;
        }
    }
    return deepest;
}

} // namespace loopwalk::config
