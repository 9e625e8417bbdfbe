// Rule 2 within one group of ends that lie close together.
#pragma once

#include "snap_work.hpp"

namespace loopwalk::network::snapping {

/// An end that no asset took. Members are held by (cable, x, y).
struct Member {
    EndId end;
    Point2 place;
    TextId circuit;
    std::uint32_t group = 0; ///< number of its group, in the order of their smallest members
    std::uint32_t seed = 0;  ///< smallest member of the cluster
};

/// Sets the seeds of a group (members ascending), and reports what cannot be told.
void settle_group(Work& work, std::vector<Member>& members, std::span<const std::uint32_t> of);

} // namespace loopwalk::network::snapping
