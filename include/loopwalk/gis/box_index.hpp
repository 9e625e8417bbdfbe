// Which boxes meet a query box: GEOS' sort-tile-recursive tree behind a two-step type, so nothing
// can be inserted after the first query.
#pragma once

#include "loopwalk/base/point.hpp"

#include <cstdint>
#include <memory>
#include <vector>

namespace loopwalk::gis {

/// Boxes that are known from the start, packed into a tree: queries find all that meet a box. One
/// thread at a time.
class BoxIndex {
  public:
    /// Item i has boxes[i].
    explicit BoxIndex(const std::vector<base::Box>& boxes);
    BoxIndex(BoxIndex&&) noexcept;
    BoxIndex& operator=(BoxIndex&&) noexcept;
    ~BoxIndex();

    /// Items whose box meets `box`, ascending, into `found` (cleared first).
    void query(const base::Box& box, std::vector<std::uint32_t>& found) const;

  private:
    struct State;
    std::unique_ptr<State> m_state;
};

} // namespace loopwalk::gis
