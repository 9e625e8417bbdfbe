// Impedance of a kilometre of cable in every condition that a figure needs, as the smallest and
// largest over the cable types it may be (method.md sections 2 and 3).
#pragma once

#include "loopwalk/catalogue/catalogue.hpp"

#include <complex>
#include <span>

namespace loopwalk::impedance {

/// State of the earth path back to the supply.
enum class EarthPathState : std::uint8_t { intact, unknown, broken };

using Complex = std::complex<double>; ///< R + jX, ohm

/// Line, earth path and neutral in series from the supply; ohm, or ohm per km.
struct Conductors {
    Complex line, earth, neutral; ///< of each conductor by itself
    /// In series.
    Conductors& operator+=(const Conductors& other) noexcept {
        line += other.line;
        earth += other.earth;
        neutral += other.neutral;
        return *this;
    }
};
/// Ohm per km times kilometres, or the other way round.
[[nodiscard]] Conductors operator*(const Conductors& c, double factor) noexcept;

/// Hot: at the catalogue's temperatures, for the smallest current. Cold: at 20 C, for the largest.
struct Impedances {
    Conductors hot_low, hot_high, cold_low, cold_high; ///< at the bounds over the completions
    /// In series: bounds add up to bounds, an outer box.
    Impedances& operator+=(const Impedances& other) noexcept {
        hot_low += other.hot_low;
        hot_high += other.hot_high;
        cold_low += other.cold_low;
        cold_high += other.cold_high;
        return *this;
    }
};

/// What each conductor of a cable survives: k^2 S^2 (BS 7671 reg 434.5.2 and 543.1.3). Unknown k or
/// area: from 0 to infinity. A conductor that is not there carries nothing: infinite.
struct Withstand {
    base::Bounds<base::AmpereSquaredSecond> line, neutral, earth; ///< A2s, least and most
};

/// Whether a cable has a conductor, as far as its type is known.
enum class Presence : std::uint8_t { yes, no, unknown };

/// Of conductors in series: one that is missing breaks the path, one that may be leaves it open.
[[nodiscard]] constexpr Presence in_series(Presence a, Presence b) noexcept {
    if (a == Presence::no || b == Presence::no) {
        return Presence::no;
    }
    return a == Presence::unknown || b == Presence::unknown ? Presence::unknown : Presence::yes;
}

/// A cable type, or the envelope of several.
struct CablePerKm {
    Impedances z;                         ///< ohm per km
    Presence has_earth = Presence::yes;   ///< unknown: some of the types have none
    Presence has_neutral = Presence::yes; ///< unknown: some of the types have none
    bool ends_unbonded = true;          ///< an end that is not bonded leaves no earth path past it
    base::Maybe<base::Ampere> ampacity; ///< smallest; absent if any type has none
    base::Maybe<base::Ampere> ampacity_high; ///< largest, likewise
    Withstand withstand;                     ///< of one cable
};

/// `armour_bonded`: with armour+cpc, whether the armour takes part.
enum class ArmourBond : bool { not_bonded, bonded };

/// Earth path armour+cpc: high bound the cpc alone, low bound the complex parallel of the two
/// (method.md section 3). Armour hot: its own temperature and `armour_ac_factor`; cold: no factor.
[[nodiscard]] CablePerKm per_km(const catalogue::CableType& type, double armour_ac_factor,
                                ArmourBond bond = ArmourBond::bonded);

/// Box around several types: smallest and largest r, x and k^2 S^2 of each conductor by itself.
/// Precondition: at least one.
[[nodiscard]] CablePerKm envelope(std::span<const CablePerKm> types);

} // namespace loopwalk::impedance
