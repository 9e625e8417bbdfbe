// Which cables leave a supply by which way (contract.md, "Ways").
#pragma once

#include "loopwalk/network/network.hpp"

#include <span>
#include <vector>

namespace loopwalk::network {

/// A cable that ends at a supply; sorted by cable.
struct CableAtSupply {
    base::CableId cable;
    WayId way; ///< filled by group_into_ways
};

/// Appends the ways of one supply to `ways` (without vertex and device) and tells each cable its
/// way. `rows` are the supply's rows of the ways layer, in canonical order; `row_used` is marked
/// for those that claim a cable.
void group_into_ways(const model::Layers& layers, SupplyId supply, std::span<const WayRowId> rows,
                     std::span<CableAtSupply> cables, std::vector<Way>& ways,
                     std::vector<bool>& row_used);

} // namespace loopwalk::network
