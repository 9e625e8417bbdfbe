// Boxes -> nodes of SQLite's R-tree module, packed in bulk by sort-tile-recursive.
//
// Leutenegger, Lopez, Edgington: "STR: a simple and efficient algorithm for R-tree packing",
// ICDE 1997. Node format: SQLite, ext/rtree/rtree.c, "Database Format of R-Tree Tables".
// Pure computation; spatial_index.hpp puts it into a GeoPackage.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace loopwalk::gis {

/// A feature (or a node) and its box, as the index stores it.
struct IndexEntry {
    std::int64_t id = 0;
    float min_x = 0, max_x = 0, min_y = 0, max_y = 0;
};

/// The node in which a feature stands.
struct IndexLeaf {
    std::int64_t id = 0;
    std::int64_t node = 0;
};

/// Rounds outwards exactly as SQLite does, so rows that triggers add later fit in.
/// Precondition: finite.
[[nodiscard]] IndexEntry index_entry(std::int64_t id, double min_x, double max_x, double min_y,
                                     double max_y);

/// Receives the tree. Blocks are only valid during the call.
class RtreeSink {
  public:
    RtreeSink() = default;
    RtreeSink(const RtreeSink&) = delete;
    RtreeSink& operator=(const RtreeSink&) = delete;
    virtual ~RtreeSink() = default;
    virtual void node(std::int64_t node, std::span<const std::uint8_t> block) = 0;
    virtual void parent(std::int64_t node, std::int64_t parent) = 0;
    /// All features, ascending by id.
    virtual void leaves(std::span<const IndexLeaf> leaves) = 0;
};

/// The root is node 1; without entries it is an empty leaf. `block_size` is the size of a node in
/// bytes. The result depends on the set of entries only, not on their order. O(n log n).
void pack_rtree(std::vector<IndexEntry> entries, std::size_t block_size, RtreeSink& sink);

} // namespace loopwalk::gis
