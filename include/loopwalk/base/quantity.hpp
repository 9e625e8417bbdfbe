// Physical quantities as types: a number cannot cross a function boundary without its unit.
// Only physically true operators exist. Inside a formula, `.value()` gives the number in the unit
// that the type is named after.
#pragma once

#include <cmath>
#include <compare>
#include <limits>
#include <type_traits>

namespace loopwalk::base {

/// A number with a unit. Zero by default; no implicit conversion in either direction.
template <class Unit>
class Quantity {
  public:
    constexpr Quantity() noexcept = default;
    constexpr explicit Quantity(double value) noexcept : m_value(value) {}

    /// The number in the unit the type is named after.
    [[nodiscard]] constexpr double value() const noexcept { return m_value; }

    friend constexpr auto operator<=>(Quantity, Quantity) noexcept = default;
    friend constexpr Quantity operator+(Quantity a, Quantity b) noexcept {
        return Quantity(a.m_value + b.m_value);
    }
    friend constexpr Quantity operator-(Quantity a, Quantity b) noexcept {
        return Quantity(a.m_value - b.m_value);
    }
    friend constexpr Quantity operator*(Quantity a, double factor) noexcept {
        return Quantity(a.m_value * factor);
    }
    friend constexpr Quantity operator*(double factor, Quantity a) noexcept { return a * factor; }
    friend constexpr Quantity operator/(Quantity a, double divisor) noexcept {
        return Quantity(a.m_value / divisor);
    }
    friend constexpr double operator/(Quantity a, Quantity b) noexcept {
        return a.m_value / b.m_value;
    }
    /// Adds in place, for sums over a path.
    constexpr Quantity& operator+=(Quantity other) noexcept {
        m_value += other.m_value;
        return *this;
    }

  private:
    double m_value = 0.0;
};

using Metre = Quantity<struct MetreUnit>; ///< of length
using Ohm = Quantity<struct OhmUnit>;     ///< of resistance, reactance or magnitude of impedance
using OhmPerKm = Quantity<struct OhmPerKmUnit>;                       ///< of a conductor
using Volt = Quantity<struct VoltUnit>;                               ///< of voltage
using Ampere = Quantity<struct AmpereUnit>;                           ///< of current
using Second = Quantity<struct SecondUnit>;                           ///< of time
using Watt = Quantity<struct WattUnit>;                               ///< of real power
using SquareMillimetre = Quantity<struct SquareMillimetreUnit>;       ///< of cross-section
using AmpereSquaredSecond = Quantity<struct AmpereSquaredSecondUnit>; ///< let-through energy I2t
using Celsius = Quantity<struct CelsiusUnit>;                         ///< of temperature

/// Resistance of a length of conductor.
[[nodiscard]] constexpr Ohm operator*(OhmPerKm r, Metre length) noexcept {
    return Ohm(r.value() * (length.value() / 1000.0));
}
/// Ohm's law; `z` of zero gives infinity.
[[nodiscard]] constexpr Ampere operator/(Volt u, Ohm z) noexcept {
    return Ampere(u.value() / z.value());
}
/// Ohm's law; `i` of zero gives infinity.
[[nodiscard]] constexpr Ohm operator/(Volt u, Ampere i) noexcept {
    return Ohm(u.value() / i.value());
}

static_assert(sizeof(Ohm) == sizeof(double) && std::is_trivially_copyable_v<Ohm>);

/// An optional quantity in the space of the quantity: for arrays with one entry per asset.
/// Absent means "not in the record" or "not computed", never zero.
template <class Q>
class Maybe {
  public:
    constexpr Maybe() noexcept = default;
    // Implicit on purpose: a known value is a valid optional value.
    // NOLINTNEXTLINE(google-explicit-constructor)
    constexpr Maybe(Q value) noexcept : m_value(value.value()) {}

    /// False of a value that is not on record; NaN counts as none.
    [[nodiscard]] constexpr bool has_value() const noexcept { return m_value == m_value; }
    /// Likewise, for use in conditions.
    constexpr explicit operator bool() const noexcept { return has_value(); }
    /// The value; only meaningful if has_value().
    [[nodiscard]] constexpr Q operator*() const noexcept { return Q(m_value); }
    /// The value, or `fallback` where none is known.
    [[nodiscard]] constexpr Q value_or(Q fallback) const noexcept {
        return has_value() ? Q(m_value) : fallback;
    }
    friend constexpr bool operator==(Maybe a, Maybe b) noexcept {
        return a.has_value() == b.has_value() && (!a.has_value() || a.m_value == b.m_value);
    }

  private:
    double m_value = std::numeric_limits<double>::quiet_NaN();
};

/// A plain number (a ratio, a factor) that can be stored in Maybe.
using Number = Quantity<struct NumberUnit>;

/// Smallest and largest value over every completion that the record allows; low <= high.
template <class Q>
struct Bounds {
    Q low{};  ///< the smallest
    Q high{}; ///< the largest; not below `low`

    /// Of a value that the record states.
    [[nodiscard]] static constexpr Bounds exactly(Q value) noexcept { return {value, value}; }
    /// Whether the record leaves nothing open.
    [[nodiscard]] constexpr bool is_exact() const noexcept { return low == high; }
    friend constexpr bool operator==(const Bounds&, const Bounds&) noexcept = default;
    /// Bounds of a sum of independent values: the sums of the bounds.
    constexpr Bounds& operator+=(const Bounds& other) noexcept {
        low += other.low;
        high += other.high;
        return *this;
    }
};

} // namespace loopwalk::base
