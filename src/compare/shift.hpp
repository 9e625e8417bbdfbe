// How far a thing has moved between two records of it.
#pragma once

#include "loopwalk/base/point.hpp"

#include <functional>
#include <vector>

namespace loopwalk::compare {

using Lines = std::vector<base::Polyline>;
using Heed = std::function<void()>; ///< may throw, to end the search

/// How far, at most, a vertex of either lies from the other's lines, metres. Neither is empty, nor
/// is any of their lines. Cost n log n in vertices. `heed` is called at each vertex.
[[nodiscard]] double shift(const Lines& a, const Lines& b, const Heed& heed);

} // namespace loopwalk::compare
