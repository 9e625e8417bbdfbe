// Nearest neighbours in the plane by a sweep along the longer side of the data. Cost for points
// spread over an area is about the square root of their number each; it does not depend on how
// dense they lie, so coordinates in degrees that nobody declared as such do no harm.
#pragma once

#include "loopwalk/base/point.hpp"

#include <cstdint>
#include <limits>
#include <optional>
#include <vector>

namespace loopwalk::input {

class NearestSearch {
  public:
    struct Item {
        base::Point2 place;
        std::uint32_t owner = 0;
    };
    explicit NearestSearch(std::vector<Item> items);

    /// Sorted along the sweep, not as given.
    [[nodiscard]] const std::vector<Item>& items() const noexcept { return m_items; }
    /// Distance from item i to the nearest item of another owner, if less than `limit`.
    [[nodiscard]] std::optional<double>
    distance(std::size_t i, double limit = std::numeric_limits<double>::infinity()) const;

  private:
    [[nodiscard]] double along(base::Point2 p) const noexcept { return m_by_x ? p.x : p.y; }
    [[nodiscard]] double across(base::Point2 p) const noexcept { return m_by_x ? p.y : p.x; }
    std::vector<Item> m_items;
    bool m_by_x = true;
};

} // namespace loopwalk::input
