// Operating time of a device from its time-current points (method.md section 6).
#pragma once

#include "loopwalk/catalogue/catalogue.hpp"

namespace loopwalk::catalogue {

/// What the table says of a current.
enum class TimeState : std::uint8_t {
    clears,           ///< a time is known
    not_within_table, ///< the current is below the lowest tabulated point: never extrapolated
};

/// How long a device takes.
struct OperatingTime {
    TimeState state = TimeState::not_within_table; ///< whether there is a time
    Second time;                                   ///< upper bound; only if state is `clears`
    bool is_bound_only = false; ///< current above the highest point: its shortest time stands
};

/// The points of a slow edge between which a figure lies. `slower` and `faster` are the same point
/// where the figure stands in the table or beyond its end.
struct Stretch {
    const CurvePoint* slower = nullptr; ///< the end of the chord with the smaller current
    const CurvePoint* faster = nullptr; ///< the end of the chord with the larger current
    /// False at a tabulated point and beyond the end: nothing was interpolated.
    [[nodiscard]] bool is_chord() const noexcept { return slower != faster; }
};

/// Where a current lies; none below the lowest tabulated one.
[[nodiscard]] std::optional<Stretch> stretch_at(const std::vector<CurvePoint>& slow,
                                                Ampere current) noexcept;

/// Where a time limit lies; none if the shortest tabulated time is longer.
[[nodiscard]] std::optional<Stretch> stretch_within(const std::vector<CurvePoint>& slow,
                                                    Second limit) noexcept;

/// Longest operating time at `current`: interpolated in log-log between the points of the slow
/// edge. Chords over a convex curve err long, which is the safe side.
[[nodiscard]] OperatingTime slow_time(const std::vector<CurvePoint>& slow, Ampere current) noexcept;

/// Smallest current that the slow edge clears within `limit`: none if the table's shortest time is
/// longer than the limit. A limit beyond the longest tabulated time takes the lowest point.
[[nodiscard]] Maybe<Ampere> slow_current(const std::vector<CurvePoint>& slow,
                                         Second limit) noexcept;

/// Slow edges that bracket the true one. Where the catalogue has the rating's own curve both are
/// that curve. Else `late` is that of the next larger and `early` the earliest edge of the next
/// smaller rating of the same type (its fast edge where it has one), and `is_own` is false.
/// A pointer is null if there is no such rating: then nothing bounds that side.
struct SlowEdges {
    const std::vector<CurvePoint>* late = nullptr;  ///< clears no sooner than the device
    const std::vector<CurvePoint>* early = nullptr; ///< clears no later than the device
    bool is_own = false; ///< the catalogue has a curve of this very rating
};
/// For a device of `type` marked `rated`; see SlowEdges.
[[nodiscard]] SlowEdges slow_edges(const FuseType& type, Ampere rated) noexcept;

} // namespace loopwalk::catalogue
