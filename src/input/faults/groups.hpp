// Places that hang together, and those that lie apart from all others.
#pragma once

#include "loopwalk/base/point.hpp"

#include <cstdint>
#include <vector>

namespace loopwalk::input {

/// For each place the number of its group, counted from 0: who can be reached in steps of at most
/// `step` (metres, above 0) is of one group. Precondition: places are in order of (x, y).
[[nodiscard]] std::vector<std::uint32_t> groups_of(const std::vector<base::Point2>& places,
                                                   double step);

} // namespace loopwalk::input
