// What two losses together explain, and neither alone.
#pragma once

#include "board.hpp"

namespace loopwalk::outage {

struct Pairs {
    std::vector<Candidate> found; ///< complete ones, those alike together, by rank
    bool is_whole = true;         ///< false: more than could be searched or kept
};

/// Two kinds: each loss puts out some of the columns by itself (`singles`), or the two together cut
/// off what each alone leaves a way round (loops).
[[nodiscard]] Pairs find_pairs(const Board& board, const std::vector<Candidate>& singles);

} // namespace loopwalk::outage
