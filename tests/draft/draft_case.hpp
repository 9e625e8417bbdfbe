// A case: layers as small tables, and what a draft must make of them. README.md tells the format.
#pragma once

#include "loopwalk/draft/guess.hpp"

#include <string>
#include <vector>

namespace loopwalk::test {

struct CaseLayer {
    std::string name;
    draft::Shape shape{};
    std::vector<std::string> fields;            ///< "@drawn": length of the line, m
    std::vector<std::vector<std::string>> rows; ///< empty: null
};

struct DraftCase {
    std::string title;
    std::vector<CaseLayer> layers;
    std::vector<std::string> expected; ///< lines of the section "expect"
};

[[nodiscard]] DraftCase read_draft_case(const std::string& path);

enum class RowOrder : std::uint8_t { as_written, backwards };
[[nodiscard]] draft::LayerProfile profile_of(const CaseLayer& layer, RowOrder order);

/// What a draft states, as lines of the same form as `expected`: what is sure or likely, and unsure
/// guesses too.
[[nodiscard]] std::vector<std::string> stated(const draft::Draft& draft);

} // namespace loopwalk::test
