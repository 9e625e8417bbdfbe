#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/crs.hpp"

#include <proj.h>

#include "crs_state.hpp"
#include "gdal_error_scope.hpp"
#include "gdal_setup.hpp"
#include <algorithm>
#include <cerrno>
#include <cmath>
#include <string>
#include <vector>

namespace loopwalk::gis {

struct Transform::State {
    std::unique_ptr<OGRCoordinateTransformation> projection; ///< null: only `scale`
    double scale = 1.0;
    std::vector<double> x, y; ///< GDAL wants the ordinates apart; kept for the next call
    std::vector<int> errors;
    std::string way; ///< "EPSG:1 to EPSG:2", for messages
};

namespace {

bool all_finite(std::span<const base::Point2> points) noexcept {
    return std::ranges::all_of(
        points, [](base::Point2 p) { return std::isfinite(p.x) && std::isfinite(p.y); });
}

/// Of the operation itself (PROJ, proj.h: PROJ_ERR_INVALID_OP..., PROJ_ERR_OTHER_NO_INVERSE_OP; or
/// of memory): it holds for every point, where the others say that one point lies out of its reach.
bool is_of_operation(int error) noexcept {
    return error == ENOMEM || (error >= PROJ_ERR_INVALID_OP && error < PROJ_ERR_COORD_TRANSFM) ||
           error == PROJ_ERR_OTHER_API_MISUSE || error == PROJ_ERR_OTHER_NO_INVERSE_OP;
}

[[noreturn]] void no_way(const Crs& from, const Crs& to, const std::string& why) {
    throw base::InputError("coordinates cannot be brought from " + from.text() + " to " +
                           to.text() + ": " + why);
}

} // namespace

Transform::Transform(const Crs& from, const Crs& to) : m_state(std::make_unique<State>()) {
    if (from.is_unknown() || to.is_unknown() || from.same_as(to)) {
        return;
    }
    const bool from_plane = from.state()->kind == CrsKind::planar;
    const bool to_plane = to.state()->kind == CrsKind::planar;
    if (from_plane && to_plane) {
        m_state->scale = from.metres_per_unit() / to.metres_per_unit();
        return;
    }
    if (from_plane || to_plane) {
        no_way(from, to, "one of them is a local system without a place on the Earth");
    }
    must_have_systems();
    m_state->way = from.text() + " to " + to.text();
    const GdalErrorScope errors;
    m_state->projection.reset(
        OGRCreateCoordinateTransformation(&from.state()->plane, &to.state()->plane));
    if (m_state->projection == nullptr) {
        no_way(from, to, errors.text());
    }
}

Transform::Transform(Transform&&) noexcept = default;
Transform& Transform::operator=(Transform&&) noexcept = default;
Transform::~Transform() = default;

bool Transform::is_identity() const noexcept {
    return m_state->projection == nullptr && m_state->scale == 1.0;
}

bool Transform::apply(std::span<base::Point2> points) const {
    State& state = *m_state;
    if (state.projection == nullptr) {
        for (base::Point2& p : points) {
            p = {p.x * state.scale, p.y * state.scale};
        }
        return all_finite(points);
    }
    const std::size_t count = points.size();
    state.x.resize(count);
    state.y.resize(count);
    state.errors.assign(count, 0);
    for (std::size_t i = 0; i < count; ++i) {
        state.x[i] = points[i].x;
        state.y[i] = points[i].y;
    }
    const GdalErrorScope quiet; // the caller hears of a failure by the return value
    bool done = state.projection->TransformWithErrorCodes(static_cast<int>(count), state.x.data(),
                                                          state.y.data(), nullptr, nullptr,
                                                          state.errors.data()) != 0;
    for (std::size_t i = 0; i < count; ++i) {
        if (is_of_operation(state.errors[i])) {
            throw base::InputError("coordinates cannot be brought from " + state.way + ": " +
                                   proj_errno_string(state.errors[i]));
        }
        points[i] = {state.x[i], state.y[i]};
        done = done && state.errors[i] == 0;
    }
    return done && all_finite(points);
}

} // namespace loopwalk::gis
