// Places and lines of features, brought into working coordinates.
#pragma once

#include "row_reader.hpp"

namespace loopwalk::input {

/// The place of a point feature; none (and an issue) if it has no usable one.
[[nodiscard]] std::optional<base::Point2> read_place(RowReader& rows,
                                                     const gis::Transform& transform);

/// One line in canonical direction: from the end with the smaller (x, y); a closed line in the
/// direction whose first differing vertex is smaller.
struct CleanLine {
    base::Polyline line; ///< working coordinates, no vertex twice in a row
    base::Metre drawn;   ///< on the ground, > 0
    base::Metre planar;  ///< > 0
};

struct LineSystems {
    const gis::Transform& transform;
    const gis::GroundLength& ground; ///< of the layer's own system
};

/// The lines of a line feature, sorted by their vertices; empty (and an issue) if there is no
/// usable one. Lines without length are left out, with an issue.
[[nodiscard]] std::vector<CleanLine> read_lines(RowReader& rows, const LineSystems& systems);

} // namespace loopwalk::input
