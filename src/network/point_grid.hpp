// Points by place in a hashed grid: for points that come while the search goes on, and for small
// fixed distances, where it is several times faster than a tree.
#pragma once

#include "loopwalk/base/point.hpp"

#include <cmath>
#include <cstdint>
#include <vector>

namespace loopwalk::network::snapping {

class PointGrid {
  public:
    /// `cell`: the largest distance that will be asked for, metres, > 0.
    PointGrid(double cell, std::size_t expected);

    void insert(base::Point2 place, std::uint32_t id);

    /// Calls visit(place, id) for every point in the cell of `around` and the eight about it: all
    /// within one cell's width, and some further ones. The order means nothing.
    template <class Visit>
    void visit_near(base::Point2 around, Visit&& visit) const {
        const Cell middle = cell_of(around);
        for (std::int64_t x = middle.x - 1; x <= middle.x + 1; ++x) {
            for (std::int64_t y = middle.y - 1; y <= middle.y + 1; ++y) {
                visit_cell({x, y}, visit);
            }
        }
    }

  private:
    struct Cell {
        std::int64_t x = 0;
        std::int64_t y = 0;
        friend bool operator==(const Cell&, const Cell&) noexcept = default;
    };
    struct Entry {
        base::Point2 place;
        std::uint32_t id = 0;
        std::uint32_t next = 0; // position + 1 of the next entry of the bucket; 0: the last
    };

    template <class Visit>
    void visit_cell(Cell cell, Visit& visit) const {
        for (std::uint32_t at = m_first[bucket_of(cell)]; at != 0; at = m_entries[at - 1].next) {
            const Entry& entry = m_entries[at - 1];
            if (cell_of(entry.place) == cell) { // cells may share a bucket
                visit(entry.place, entry.id);
            }
        }
    }
    [[nodiscard]] Cell cell_of(base::Point2 p) const noexcept {
        return {static_cast<std::int64_t>(std::floor(p.x / m_cell)),
                static_cast<std::int64_t>(std::floor(p.y / m_cell))};
    }
    [[nodiscard]] std::size_t bucket_of(Cell cell) const noexcept;

    double m_cell;
    std::vector<std::uint32_t> m_first; // position + 1 of a bucket's first entry; 0: empty
    std::vector<Entry> m_entries;
};

} // namespace loopwalk::network::snapping
