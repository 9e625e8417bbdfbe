// What stands behind a Crs. For this folder only.
#pragma once

#include "loopwalk/gis/crs.hpp"

#include <ogr_spatialref.h>

#include <memory>
#include <optional>
#include <string>

namespace loopwalk::gis {

enum class CrsKind : std::uint8_t {
    geographic,
    projected,
    planar, ///< local, engineering or geocentric: no way to anything else
};

struct Crs::State {
    OGRSpatialReference as_given; ///< written to the output unchanged
    OGRSpatialReference plane;    ///< without the vertical part: used for transformations
    CrsKind kind = CrsKind::planar;
    double metres_per_unit = 1.0;
    std::string text;
};

/// Unknown for null and for the "undefined" systems that GeoPackages state.
[[nodiscard]] Crs crs_of(const OGRSpatialReference* reference);

} // namespace loopwalk::gis
