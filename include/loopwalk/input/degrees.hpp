// Degrees that nobody declared as such. Taken for metres, every length would be a hundred thousand
// times too short and every loop would meet its limit.
#pragma once

#include "loopwalk/gis/dataset.hpp"

#include <cstdint>
#include <optional>
#include <vector>

namespace loopwalk::input {

/// Looks at the coordinates of one layer as they are stored. They look like degrees if nine in ten
/// lie within 180 by 90 and the typical line, or the typical distance to the next point, is below
/// kShortest: 2 km in degrees, 2 cm in metres, which no drawing of cables or columns has. So a
/// small town drawn in metres near 0,0 does not look like them.
class DegreeCheck {
  public:
    static constexpr double kShortest = 0.02; ///< in units of the system
    /// Whether the numbers may be a longitude and a latitude.
    [[nodiscard]] static bool is_within(base::Point2 p) noexcept;

    /// Geometry that cannot be used, and places at 0,0, say nothing.
    void add(const gis::Geometry& geometry);
    /// The box of the coordinates if they look like degrees; else none.
    [[nodiscard]] std::optional<base::Box> degrees() const;

  private:
    [[nodiscard]] bool takes(base::Point2 place);
    void add_line(const base::Polyline& line);
    [[nodiscard]] double typical_distance() const;

    std::uint64_t m_all = 0;
    std::uint64_t m_within = 0; ///< of 180 by 90
    std::uint64_t m_lines = 0;  ///< with any length, within
    std::uint64_t m_short = 0;  ///< of those, below kShortest
    std::vector<base::Point2> m_points;
    base::Box m_box;
};

} // namespace loopwalk::input
