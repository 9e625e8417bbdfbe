// The places that current passes on its way to the columns looked at, each a node of its own:
// cables and fuses, too, so that losing any place is taking out one node.
#pragma once

#include "loopwalk/outage/outage.hpp"

#include <span>

namespace loopwalk::outage {

using PlaceNode = std::uint32_t;
constexpr PlaceNode kSource = 0; ///< what feeds all supplies; never lost
constexpr PlaceNode kNoPlace = 0xffffffffU;

struct SupplyGraph {
    std::vector<Place> places;             ///< by node
    std::vector<std::uint32_t> first;      ///< by node: stretch of `neighbours`; one more at last
    std::vector<PlaceNode> neighbours;     ///< each connection in both directions
    std::vector<ColumnId> columns;         ///< that are looked at, ascending
    std::vector<PlaceNode> lamps;          ///< by column of `columns`
    std::vector<base::ComponentId> chosen; ///< components that are looked at, ascending
    std::vector<ColumnId> by_near_main;    ///< columns without a cable, hung on the nearest main

    [[nodiscard]] std::size_t size() const noexcept { return places.size(); }
    [[nodiscard]] std::span<const PlaceNode> next_to(PlaceNode node) const {
        return {neighbours.data() + first[node], first[node + 1] - first[node]};
    }
};

/// What the named columns hang on, and all that hangs on the same supplies and mains.
[[nodiscard]] SupplyGraph make_supply_graph(const Inputs& inputs, const Seen& seen);

} // namespace loopwalk::outage
