// Small random maps on which almost everything that snapping has to decide happens at once.
#pragma once

#include "support/build_layers.hpp"
#include <cstdint>
#include <random>

namespace loopwalk::test {

/// Plain lists, so that they can be shuffled and turned round before they become layers.
struct PointRecord {
    std::string id;
    base::Point2 place;
};

struct CableRecord {
    std::string id;
    std::string circuit; ///< empty: null
    std::vector<base::Polyline> lines;
    model::Status status{};
};

struct RandomMap {
    std::vector<PointRecord> supplies, columns, joints;
    std::vector<CableRecord> cables;
};

/// The same map for the same seed. Distances suit a snap distance of 0.5 m.
[[nodiscard]] RandomMap make_map(std::uint64_t seed);

/// The same records in another order, lines and parts in other directions and orders.
[[nodiscard]] RandomMap shuffled(RandomMap map, std::uint64_t seed);

[[nodiscard]] model::Layers layers_of(const RandomMap& map);

/// The map as C++ statements, for a failing case.
[[nodiscard]] std::string text_of(const RandomMap& map);

} // namespace loopwalk::test
