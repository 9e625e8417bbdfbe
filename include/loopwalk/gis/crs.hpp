// Coordinate systems: recognising them, going from one to another, lengths on the ground.
// Axis order is always x/easting/longitude first.
#pragma once

#include "loopwalk/base/point.hpp"
#include "loopwalk/base/quantity.hpp"

#include <memory>
#include <span>
#include <string>

namespace loopwalk::gis {

/// An immutable coordinate system, cheap to copy.
class Crs {
  public:
    Crs() = default; ///< unknown: coordinates are taken as metres in a plane
    /// "EPSG:27700", WKT or anything else that PROJ understands. Throws ConfigError.
    [[nodiscard]] static Crs from_text(const std::string& text);

    /// No system is stated: nothing can be transformed.
    [[nodiscard]] bool is_unknown() const noexcept { return m_state == nullptr; }
    /// Of longitudes and latitudes; false if unknown.
    [[nodiscard]] bool is_geographic() const noexcept;
    /// Metres for one unit of a projected system (0.3048 for feet); 1 if unknown.
    [[nodiscard]] double metres_per_unit() const noexcept;
    /// Whether coordinates mean the same; two unknown systems are equal.
    [[nodiscard]] bool same_as(const Crs& other) const noexcept;
    /// "EPSG:27700" where there is a code, else the name, else "unknown".
    [[nodiscard]] std::string text() const;

    struct State; ///< for this folder only
    /// Null if unknown.
    [[nodiscard]] const State* state() const noexcept { return m_state.get(); }
    explicit Crs(std::shared_ptr<const State> state) : m_state(std::move(state)) {}

  private:
    std::shared_ptr<const State> m_state;
};

/// A projected system in metres that suits the data: `crs` itself if it is one (or is unknown),
/// else the UTM zone of the centre of `box` (in `crs`), so lengths are true within 0.04 % near it.
[[nodiscard]] Crs working_crs(const Crs& crs, const base::Box& box);

/// From one system to another, east before north on both sides.
class Transform {
  public:
    /// Between equal or unknown systems it changes nothing. Throws InputError if there is no way.
    Transform(const Crs& from, const Crs& to);
    Transform(Transform&&) noexcept;
    Transform& operator=(Transform&&) noexcept;
    ~Transform();

    /// Applying it changes nothing.
    [[nodiscard]] bool is_identity() const noexcept;
    /// In place; false if any point cannot be transformed or is not finite afterwards. Throws
    /// InputError where no point can be: the systems have no way between them after all.
    [[nodiscard]] bool apply(std::span<base::Point2> points) const;

  private:
    struct State;
    std::unique_ptr<State> m_state;
};

/// Length on the ground: geodesic on the ellipsoid of the coordinate system (PROJ's geod_inverse,
/// Karney 2013, error below 15 nm), each drawn segment a geodesic. Planar if the system is unknown.
class GroundLength {
  public:
    explicit GroundLength(const Crs& crs);
    GroundLength(GroundLength&&) noexcept;
    GroundLength& operator=(GroundLength&&) noexcept;
    ~GroundLength();
    /// Length of a line in the coordinate system's own coordinates; of the drawing where a point
    /// lies out of reach. Throws as Transform::apply().
    [[nodiscard]] base::Metre of(std::span<const base::Point2> line) const;

  private:
    struct State;
    std::unique_ptr<State> m_state;
};

} // namespace loopwalk::gis
