#include "rtree_packing.hpp"

#include "loopwalk/base/error.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>

namespace loopwalk::gis {

namespace {

constexpr std::size_t kHeader = 4;    // depth (root only) and number of cells
constexpr std::size_t kCellSize = 24; // id and four floats

// SQLite widens by one part in 2^23 where the nearest float lies inside the box.
constexpr double kTowardsZero = 1.0 - 1.0 / 8388608.0;
constexpr double kAwayFromZero = 1.0 + 1.0 / 8388608.0;

float nearest_float(double value) {
    constexpr auto kMost = static_cast<double>(std::numeric_limits<float>::max());
    return static_cast<float>(std::clamp(value, -kMost, kMost));
}

float rounded_down(double value) {
    const float nearest = nearest_float(value);
    if (static_cast<double>(nearest) <= value) {
        return nearest;
    }
    return nearest_float(value * (value < 0.0 ? kAwayFromZero : kTowardsZero));
}

float rounded_up(double value) {
    const float nearest = nearest_float(value);
    if (static_cast<double>(nearest) >= value) {
        return nearest;
    }
    return nearest_float(value * (value < 0.0 ? kTowardsZero : kAwayFromZero));
}

std::size_t divided_up(std::size_t a, std::size_t b) {
    return (a + b - 1) / b;
}

/// Centres, doubled; ids decide between equals so the order is the same each time.
bool before_in_x(const IndexEntry& a, const IndexEntry& b) {
    const float ax = a.min_x / 2 + a.max_x / 2;
    const float bx = b.min_x / 2 + b.max_x / 2;
    return ax != bx ? ax < bx : a.id < b.id;
}

bool before_in_y(const IndexEntry& a, const IndexEntry& b) {
    const float ay = a.min_y / 2 + a.max_y / 2;
    const float by = b.min_y / 2 + b.max_y / 2;
    return ay != by ? ay < by : a.id < b.id;
}

/// Vertical slices of about equal numbers of nodes, each sorted by y.
void sort_into_tiles(std::vector<IndexEntry>& entries, std::size_t capacity) {
    const std::size_t nodes = divided_up(entries.size(), capacity);
    const auto slices = static_cast<std::size_t>(std::ceil(std::sqrt(static_cast<double>(nodes))));
    const std::size_t slice =
        std::max<std::size_t>(1, divided_up(nodes, std::max<std::size_t>(1, slices))) * capacity;
    std::sort(entries.begin(), entries.end(), before_in_x);
    for (std::size_t from = 0; from < entries.size(); from += slice) {
        const std::size_t to = std::min(from + slice, entries.size());
        std::sort(entries.begin() + static_cast<std::ptrdiff_t>(from),
                  entries.begin() + static_cast<std::ptrdiff_t>(to), before_in_y);
    }
}

/// Number of nodes on each level, leaves first; the last is 1, the root.
std::vector<std::size_t> level_sizes(std::size_t entries, std::size_t capacity) {
    std::vector<std::size_t> sizes;
    do {
        entries = std::max<std::size_t>(1, divided_up(entries, capacity));
        sizes.push_back(entries);
    } while (entries > 1);
    return sizes;
}

class Block {
  public:
    explicit Block(std::size_t size) : m_bytes(size) {}

    void start(std::size_t depth, std::size_t cells) {
        std::fill(m_bytes.begin(), m_bytes.end(), std::uint8_t{0});
        m_used = 0;
        put(depth, 2);
        put(cells, 2);
    }
    void add(const IndexEntry& entry) {
        put(static_cast<std::uint64_t>(entry.id), 8);
        for (const float side : {entry.min_x, entry.max_x, entry.min_y, entry.max_y}) {
            put(std::bit_cast<std::uint32_t>(side), 4);
        }
    }
    [[nodiscard]] std::span<const std::uint8_t> bytes() const noexcept { return m_bytes; }

  private:
    void put(std::uint64_t value, std::size_t width) { // most significant byte first
        for (std::size_t i = width; i > 0; --i) {
            m_bytes[m_used++] = static_cast<std::uint8_t>(value >> (8U * (i - 1)));
        }
    }

    std::vector<std::uint8_t> m_bytes;
    std::size_t m_used = 0;
};

IndexEntry box_around(std::span<const IndexEntry> cells, std::int64_t node) {
    IndexEntry box = cells.front();
    box.id = node;
    for (const IndexEntry& cell : cells) {
        box.min_x = std::min(box.min_x, cell.min_x);
        box.max_x = std::max(box.max_x, cell.max_x);
        box.min_y = std::min(box.min_y, cell.min_y);
        box.max_y = std::max(box.max_y, cell.max_y);
    }
    return box;
}

void tell_leaves(const std::vector<IndexEntry>& entries, std::size_t capacity, std::int64_t first,
                 RtreeSink& sink) {
    std::vector<IndexLeaf> leaves;
    leaves.reserve(entries.size());
    for (std::size_t i = 0; i < entries.size(); ++i) {
        leaves.push_back({entries[i].id, first + static_cast<std::int64_t>(i / capacity)});
    }
    std::ranges::sort(leaves, {}, &IndexLeaf::id); // appending is the fast way into a table
    sink.leaves(leaves);
}

void tell_parents(const std::vector<IndexEntry>& entries, std::size_t capacity, std::int64_t first,
                  RtreeSink& sink) {
    for (std::size_t i = 0; i < entries.size(); ++i) {
        sink.parent(entries[i].id, first + static_cast<std::int64_t>(i / capacity));
    }
}

/// Writes the nodes of one level; returns their boxes.
std::vector<IndexEntry> write_level(const std::vector<IndexEntry>& entries, std::size_t capacity,
                                    std::int64_t first, std::size_t root_depth, Block& block,
                                    RtreeSink& sink) {
    std::vector<IndexEntry> boxes;
    boxes.reserve(divided_up(entries.size(), capacity));
    for (std::size_t from = 0; from < entries.size(); from += capacity) {
        const std::span<const IndexEntry> cells(entries.data() + from,
                                                std::min(capacity, entries.size() - from));
        const std::int64_t node = first + static_cast<std::int64_t>(boxes.size());
        block.start(root_depth, cells.size());
        for (const IndexEntry& cell : cells) {
            block.add(cell);
        }
        sink.node(node, block.bytes());
        boxes.push_back(box_around(cells, node));
    }
    return boxes;
}

} // namespace

IndexEntry index_entry(std::int64_t id, double min_x, double max_x, double min_y, double max_y) {
    return {id, rounded_down(min_x), rounded_up(max_x), rounded_down(min_y), rounded_up(max_y)};
}

void pack_rtree(std::vector<IndexEntry> entries, std::size_t block_size, RtreeSink& sink) {
    LW_ASSERT(block_size >= kHeader + 2 * kCellSize);
    const std::size_t capacity = (block_size - kHeader) / kCellSize;
    const std::vector<std::size_t> sizes = level_sizes(entries.size(), capacity);
    const std::size_t depth = sizes.size() - 1;
    Block block(block_size);
    if (entries.empty()) {
        block.start(0, 0);
        sink.node(1, block.bytes());
        return;
    }
    std::int64_t first = 1; // numbers run from the root down, so the leaves come last
    for (std::size_t level = 1; level < sizes.size(); ++level) {
        first += static_cast<std::int64_t>(sizes[level]);
    }
    for (std::size_t level = 0; level <= depth; ++level) {
        sort_into_tiles(entries, capacity);
        level == 0 ? tell_leaves(entries, capacity, first, sink)
                   : tell_parents(entries, capacity, first, sink);
        entries = write_level(entries, capacity, first, level == depth ? depth : 0, block, sink);
        if (level < depth) {
            first -= static_cast<std::int64_t>(sizes[level + 1]);
        }
    }
}

} // namespace loopwalk::gis
