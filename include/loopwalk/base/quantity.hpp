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
    constexpr Quantity& operator+=(Quantity other) noexcept {
        m_value += other.m_value;
        return *this;
    }

  private:
    double m_value = 0.0;
};

using Metre = Quantity<struct MetreUnit>;
using Ohm = Quantity<struct OhmUnit>;
using OhmPerKm = Quantity<struct OhmPerKmUnit>;
using Volt = Quantity<struct VoltUnit>;
using Ampere = Quantity<struct AmpereUnit>;
using Second = Quantity<struct SecondUnit>;
using Watt = Quantity<struct WattUnit>;
using SquareMillimetre = Quantity<struct SquareMillimetreUnit>;
using AmpereSquaredSecond = Quantity<struct AmpereSquaredSecondUnit>;
using Celsius = Quantity<struct CelsiusUnit>;

[[nodiscard]] constexpr Ohm operator*(OhmPerKm r, Metre length) noexcept {
    return Ohm(r.value() * (length.value() / 1000.0));
}
[[nodiscard]] constexpr Ampere operator/(Volt u, Ohm z) noexcept {
    return Ampere(u.value() / z.value());
}
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

    [[nodiscard]] constexpr bool has_value() const noexcept { return m_value == m_value; }
    constexpr explicit operator bool() const noexcept { return has_value(); }
    /// The value; only meaningful if has_value().
    [[nodiscard]] constexpr Q operator*() const noexcept { return Q(m_value); }
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
    Q low{};
    Q high{};

    [[nodiscard]] static constexpr Bounds exactly(Q value) noexcept { return {value, value}; }
    [[nodiscard]] constexpr bool is_exact() const noexcept { return low == high; }
    friend constexpr bool operator==(const Bounds&, const Bounds&) noexcept = default;
    constexpr Bounds& operator+=(const Bounds& other) noexcept {
        low += other.low;
        high += other.high;
        return *this;
    }
};

} // namespace loopwalk::base
