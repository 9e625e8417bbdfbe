#include "point_grid.hpp"

#include <bit>

namespace loopwalk::network::snapping {

PointGrid::PointGrid(double cell, std::size_t expected)
    : m_cell(cell), m_first(std::bit_ceil(expected + 1), 0) {
    m_entries.reserve(expected);
}

void PointGrid::insert(base::Point2 place, std::uint32_t id) {
    std::uint32_t& first = m_first[bucket_of(cell_of(place))];
    m_entries.push_back({place, id, first});
    first = static_cast<std::uint32_t>(m_entries.size());
}

std::size_t PointGrid::bucket_of(Cell cell) const noexcept {
    // Multipliers and shift of the 64-bit finaliser of MurmurHash3 (Appleby, public domain).
    auto h = static_cast<std::uint64_t>(cell.x) * 0xff51afd7ed558ccdULL;
    h ^= static_cast<std::uint64_t>(cell.y) * 0xc4ceb9fe1a85ec53ULL;
    h ^= h >> 33U;
    h *= 0xff51afd7ed558ccdULL;
    h ^= h >> 33U;
    return static_cast<std::size_t>(h) & (m_first.size() - 1);
}

} // namespace loopwalk::network::snapping
