#include "loopwalk/catalogue/curve.hpp"

#include <algorithm>
#include <cmath>

namespace loopwalk::catalogue {

namespace {

/// Ordinate at `x` of the straight line through two points on log-log paper; x0 != x1, all > 0.
double on_chord(double x, double x0, double y0, double x1, double y1) noexcept {
    return y0 * std::exp(std::log(x / x0) * std::log(y1 / y0) / std::log(x1 / x0));
}

} // namespace

std::optional<Stretch> stretch_at(const std::vector<CurvePoint>& slow, Ampere current) noexcept {
    // The last of equal currents is the foot of a vertical step: its time holds.
    const auto above =
        std::upper_bound(slow.begin(), slow.end(), current,
                         [](Ampere i, const CurvePoint& point) { return i < point.current; });
    if (above == slow.begin()) {
        return std::nullopt;
    }
    const CurvePoint& below = *(above - 1);
    if (above == slow.end() || below.current == current) {
        return Stretch{&below, &below};
    }
    return Stretch{&below, &*above};
}

std::optional<Stretch> stretch_within(const std::vector<CurvePoint>& slow, Second limit) noexcept {
    const auto fast_enough = std::find_if(
        slow.begin(), slow.end(), [limit](const CurvePoint& point) { return point.time <= limit; });
    if (fast_enough == slow.end()) {
        return std::nullopt;
    }
    if (fast_enough == slow.begin() || fast_enough->time == limit) {
        return Stretch{&*fast_enough, &*fast_enough};
    }
    const CurvePoint& before = *(fast_enough - 1); // slower than the limit
    if (before.current == fast_enough->current) {
        return Stretch{&*fast_enough, &*fast_enough};
    }
    return Stretch{&before, &*fast_enough};
}

OperatingTime slow_time(const std::vector<CurvePoint>& slow, Ampere current) noexcept {
    const auto at = stretch_at(slow, current);
    if (!at.has_value()) {
        return {};
    }
    const CurvePoint& below = *at->slower;
    if (!at->is_chord()) {
        return {TimeState::clears, below.time, current > below.current};
    }
    return {TimeState::clears,
            Second(on_chord(current.value(), below.current.value(), below.time.value(),
                            at->faster->current.value(), at->faster->time.value())),
            false};
}

Maybe<Ampere> slow_current(const std::vector<CurvePoint>& slow, Second limit) noexcept {
    const auto within = stretch_within(slow, limit);
    if (!within.has_value()) {
        return {};
    }
    const CurvePoint& faster = *within->faster;
    if (!within->is_chord()) {
        return faster.current;
    }
    return Ampere(on_chord(limit.value(), within->slower->time.value(),
                           within->slower->current.value(), faster.time.value(),
                           faster.current.value()));
}

SlowEdges slow_edges(const FuseType& type, Ampere rated) noexcept {
    if (const FuseRating* own = type.rating(rated); own && !own->slow.empty()) {
        return {&own->slow, &own->slow, true};
    }
    SlowEdges edges;
    for (const FuseRating& rating : type.ratings) { // ascending
        if (rating.rating > rated) {
            if (!edges.late && !rating.slow.empty()) {
                edges.late = &rating.slow;
            }
        } else if (!rating.fast.empty()) {
            edges.early = &rating.fast;
        } else if (!rating.slow.empty()) {
            edges.early = &rating.slow;
        }
    }
    return edges;
}

} // namespace loopwalk::catalogue
