// What one loss explains.
#pragma once

#include "board.hpp"

namespace loopwalk::outage {

/// By node: columns without supply if the place is lost; only of places before a column that is
/// out, and of those that `more` marks. Empty sets elsewhere.
[[nodiscard]] std::vector<ColumnSet> columns_without(const Board& board,
                                                     const std::vector<std::uint8_t>& more);

/// Every loss that explains at least one column that is out, those alike together, by rank.
[[nodiscard]] std::vector<Candidate> find_singles(const Inputs& inputs, const Board& board);

} // namespace loopwalk::outage
