#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/crs.hpp"

#include "crs_state.hpp"
#include "gdal_error_scope.hpp"
#include "gdal_setup.hpp"
#include <algorithm>
#include <cmath>
#include <vector>

namespace loopwalk::gis {

struct Transform::State {
    std::unique_ptr<OGRCoordinateTransformation> projection; ///< null: only `scale`
    double scale = 1.0;
    std::vector<double> x, y; ///< GDAL wants the ordinates apart; kept for the next call
    std::vector<int> done;
};

namespace {

bool all_finite(std::span<const base::Point2> points) noexcept {
    return std::ranges::all_of(
        points, [](base::Point2 p) { return std::isfinite(p.x) && std::isfinite(p.y); });
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
    state.done.resize(count);
    for (std::size_t i = 0; i < count; ++i) {
        state.x[i] = points[i].x;
        state.y[i] = points[i].y;
    }
    const GdalErrorScope quiet; // the caller hears of a failure by the return value
    bool done = state.projection->Transform(static_cast<int>(count), state.x.data(), state.y.data(),
                                            nullptr, nullptr, state.done.data()) != 0;
    for (std::size_t i = 0; i < count; ++i) {
        points[i] = {state.x[i], state.y[i]};
        done = done && state.done[i] != 0;
    }
    return done && all_finite(points);
}

} // namespace loopwalk::gis
