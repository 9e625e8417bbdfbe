// The built-in word lists (data/*.txt), line by line. For this folder only.
#pragma once

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace loopwalk::draft {

/// Pieces of a text between separators, outer blanks removed.
[[nodiscard]] inline std::vector<std::string_view> pieces(std::string_view text, char separator) {
    std::vector<std::string_view> all;
    while (true) {
        const std::size_t end = std::min(text.find(separator), text.size());
        all.push_back(base::trimmed(text.substr(0, end)));
        if (end == text.size()) {
            return all;
        }
        text.remove_prefix(end + 1);
    }
}

/// Calls `read(line)` for each line that holds something but a remark.
template <class Read>
void for_each_line(std::string_view text, Read read) {
    for (const std::string_view line : pieces(text, '\n')) {
        if (!line.empty() && line.front() != '#') {
            read(line);
        }
    }
}

/// A line "left<mark>right". Throws InternalError if the mark is not there.
[[nodiscard]] inline std::pair<std::string, std::string_view> sides(std::string_view line,
                                                                    char mark) {
    const std::size_t at = line.find(mark);
    if (at == std::string_view::npos) {
        throw base::InternalError("built-in word list: no '" + std::string(1, mark) +
                                  "' in: " + std::string(line));
    }
    return {std::string(base::trimmed(line.substr(0, at))), base::trimmed(line.substr(at + 1))};
}

} // namespace loopwalk::draft
