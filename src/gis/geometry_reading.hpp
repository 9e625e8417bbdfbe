// From GDAL's geometries to plain points and lines.
#pragma once

#include "loopwalk/gis/dataset.hpp"

class OGRGeometry;

namespace loopwalk::gis {

/// Whether every x and y is finite and no further from 0 than 1e12: there is nothing out there, and
/// boxes and distances of such numbers overflow.
[[nodiscard]] bool has_usable_coordinates(const OGRGeometry& geometry);

/// Fills `into` (its memory is used again) from a geometry, which may be null.
void read_geometry(const OGRGeometry* geometry, Geometry& into);

} // namespace loopwalk::gis
