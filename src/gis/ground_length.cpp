#include "loopwalk/gis/crs.hpp"

#include "crs_state.hpp"
#include "gdal_error_scope.hpp"
#include <cmath>
#include <geodesic.h>
#include <optional>
#include <vector>

namespace loopwalk::gis {

struct GroundLength::State {
    double metres_per_unit = 1.0;
    bool geodesic = false;              ///< false: a plane
    std::optional<Transform> to_angles; ///< of a projected system, to its own datum
    double degrees_per_unit = 1.0;
    geod_geodesic ellipsoid{};
    std::vector<base::Point2> angles; ///< kept for the next call
};

namespace {

double geodesic_length(const geod_geodesic& ellipsoid, std::span<const base::Point2> line,
                       double to_degrees) {
    double sum = 0.0;
    for (std::size_t i = 1; i < line.size(); ++i) {
        double metres = 0.0;
        geod_inverse(&ellipsoid, line[i - 1].y * to_degrees, line[i - 1].x * to_degrees,
                     line[i].y * to_degrees, line[i].x * to_degrees, &metres, nullptr, nullptr);
        sum += metres;
    }
    return sum;
}

/// Axes in metres and flattening; inverse flattening 0 stands for a sphere.
geod_geodesic ellipsoid_of(const OGRSpatialReference& reference) {
    geod_geodesic ellipsoid{};
    const double inverse = reference.GetInvFlattening();
    geod_init(&ellipsoid, reference.GetSemiMajor(), inverse != 0.0 ? 1.0 / inverse : 0.0);
    return ellipsoid;
}

} // namespace

GroundLength::GroundLength(const Crs& crs) : m_state(std::make_unique<State>()) {
    m_state->metres_per_unit = crs.metres_per_unit();
    if (crs.is_unknown() || crs.state()->kind == CrsKind::planar) {
        return;
    }
    const GdalErrorScope quiet;
    const std::unique_ptr<OGRSpatialReference> geographic(crs.state()->plane.CloneGeogCS());
    if (geographic == nullptr) {
        return;
    }
    m_state->geodesic = true;
    m_state->ellipsoid = ellipsoid_of(*geographic);
    m_state->degrees_per_unit = geographic->GetAngularUnits(nullptr) * 180.0 / M_PI;
    if (!crs.is_geographic()) {
        m_state->to_angles.emplace(crs, crs_of(geographic.get()));
    }
}

GroundLength::GroundLength(GroundLength&&) noexcept = default;
GroundLength& GroundLength::operator=(GroundLength&&) noexcept = default;
GroundLength::~GroundLength() = default;

base::Metre GroundLength::of(std::span<const base::Point2> line) const {
    State& state = *m_state;
    const base::Metre planar(base::length(line) * state.metres_per_unit);
    if (!state.geodesic || line.size() < 2) {
        return planar;
    }
    if (state.to_angles.has_value()) {
        state.angles.assign(line.begin(), line.end());
        if (!state.to_angles->apply(state.angles)) {
            return planar; // outside the projection's reach: the drawing is all there is
        }
        line = state.angles;
    }
    const double metres = geodesic_length(state.ellipsoid, line, state.degrees_per_unit);
    return std::isfinite(metres) ? base::Metre(metres) : planar; // not finite: latitude above 90
}

} // namespace loopwalk::gis
