// Which missing attributes to complete first: by the verdicts that knowing them would decide
// (method.md section 2). Each is tried with every value it may have, all others still ranging.
#pragma once

#include "loopwalk/checks/review.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace loopwalk::survey {

/// One missing attribute of one asset; or one word that stands in several records and that the
/// catalogue does not have: to look up once.
struct SurveyRow {
    base::AssetLayer layer{};  ///< where the record is
    std::string asset_id;      ///< empty for a word
    std::string attribute;     ///< as in the contract: "cable_type"
    std::string word;          ///< as recorded; empty: the attribute of that one asset
    std::uint32_t assets = 1;  ///< records of the layer with that word
    std::uint32_t settled = 0; ///< undecided verdicts that every value of it decides
    std::uint32_t touched = 0; ///< those that some value of it decides
};

/// Ranks them: most settled first, then most touched, then by name. A word stands beside the single
/// assets that have it if it stands in more than one record; on a path all its cables take the same
/// value. `undecided`: the columns to
/// decide, as the review found them. Cost: linear in the undecided columns and their paths.
[[nodiscard]] std::vector<SurveyRow> rank(const checks::ReviewInput& input,
                                          protection::Judge& judge,
                                          const std::vector<base::ColumnId>& undecided);

} // namespace loopwalk::survey
