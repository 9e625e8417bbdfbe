// From GDAL's geometries to plain points and lines.
#pragma once

#include "loopwalk/gis/dataset.hpp"

class OGRGeometry;

namespace loopwalk::gis {

/// Fills `into` (its memory is used again) from a geometry, which may be null.
void read_geometry(const OGRGeometry* geometry, Geometry& into);

} // namespace loopwalk::gis
