// Where the assets of a layer lie, and the box in which nearly all of them do.
#pragma once

#include "read/nearest.hpp"
#include "report.hpp"

namespace loopwalk::input {

struct Spot {
    base::Point2 place;
    std::uint32_t position = 0; ///< canonical
    friend auto operator<=>(const Spot&, const Spot&) noexcept = default;
};

/// Distinct places of a layer, in order of (x, y), and where their assets begin among the spots.
struct Places {
    std::vector<Spot> spots;
    std::vector<std::size_t> first; ///< one more than there are places
    [[nodiscard]] std::size_t count() const noexcept { return first.size() - 1; }
    [[nodiscard]] base::Point2 place(std::size_t i) const { return spots[first[i]].place; }
};

[[nodiscard]] Places places_of(const Assets& assets);
[[nodiscard]] NearestSearch search_among(const Places& places);
/// Between the 1st and 99th hundredth in x and in y. There is a place.
[[nodiscard]] base::Box middle_box(const Places& places);
/// 0 inside.
[[nodiscard]] double distance_outside(const base::Box& box, base::Point2 p);

/// Between working coordinates and those in which a layer is stored.
class StoredCoordinates {
  public:
    StoredCoordinates(const gis::Crs& stored, const gis::Crs& working)
        : m_back(working, stored), m_forth(stored, working) {}
    /// None where there is no way.
    [[nodiscard]] std::optional<base::Point2> stored(base::Point2 working) const {
        return through(m_back, working);
    }
    [[nodiscard]] std::optional<base::Point2> working(base::Point2 stored) const {
        return through(m_forth, stored);
    }
    /// The place if x and y were stored the other way round.
    [[nodiscard]] std::optional<base::Point2> exchanged(base::Point2 working_place) const;

  private:
    [[nodiscard]] static std::optional<base::Point2> through(const gis::Transform& transform,
                                                             base::Point2 p);
    gis::Transform m_back, m_forth;
};

/// outlier-place of single assets.
void report_far(Context& context, const Assets& assets, const Places& places,
                const NearestSearch& search);
/// outlier-place of a layer that lies elsewhere as a whole: is its coordinate system the right one?
void report_system(Context& context, const Assets& assets);

} // namespace loopwalk::input
