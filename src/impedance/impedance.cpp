#include "loopwalk/impedance/impedance.hpp"

#include "loopwalk/base/error.hpp"

#include "withstand.hpp"
#include <algorithm>

namespace loopwalk::impedance {

namespace {

using base::Celsius;
using catalogue::CableType;
using catalogue::Conductor;
using catalogue::EarthPath;

constexpr Celsius kCold{20.0};

Complex at(const Conductor& c, Celsius t, double ac_factor = 1.0) {
    return {c.r_at(t).value() * ac_factor, c.x.value()};
}

/// The least it may be, where the catalogue knows it as a range only.
Complex low_at(const Conductor& c, Celsius t, double ac_factor = 1.0) {
    return {c.r_low_at(t).value() * ac_factor, c.x.value()};
}

Complex parallel(Complex a, Complex b) {
    return a * b / (a + b);
}

/// A conductor or the earth path of one type in the four conditions.
struct FourOhms {
    Complex hot_low, hot_high, cold_low, cold_high;
};

FourOhms alone(const Conductor& c, double ac_factor = 1.0) {
    return {low_at(c, c.hot, ac_factor), at(c, c.hot, ac_factor), low_at(c, kCold), at(c, kCold)};
}

FourOhms earth_of(const CableType& type, double armour_ac_factor, ArmourBond bond) {
    switch (type.earth_path) {
    case EarthPath::armour:
        return alone(*type.armour, armour_ac_factor);
    case EarthPath::cpc:
        return alone(*type.cpc);
    case EarthPath::neutral:
        return alone(*type.neutral);
    case EarthPath::armour_and_cpc: {
        FourOhms ohms = alone(*type.cpc);
        if (bond == ArmourBond::bonded) {
            const FourOhms armour = alone(*type.armour, armour_ac_factor);
            ohms.hot_low = parallel(ohms.hot_low, armour.hot_low);
            ohms.cold_low = parallel(ohms.cold_low, armour.cold_low);
        }
        return ohms;
    }
    case EarthPath::none:
        return {};
    }
    throw base::InternalError("earth path out of range");
}

Complex box_low(Complex a, Complex b) {
    return {std::min(a.real(), b.real()), std::min(a.imag(), b.imag())};
}

Complex box_high(Complex a, Complex b) {
    return {std::max(a.real(), b.real()), std::max(a.imag(), b.imag())};
}

template <class Pick>
Conductors combine(const Conductors& a, const Conductors& b, Pick pick) {
    return {pick(a.line, b.line), pick(a.earth, b.earth), pick(a.neutral, b.neutral)};
}

Presence both(Presence a, Presence b) {
    return a == b ? a : Presence::unknown;
}

CablePerKm join(const CablePerKm& a, const CablePerKm& b) {
    CablePerKm box;
    box.z.hot_low = combine(a.z.hot_low, b.z.hot_low, box_low);
    box.z.hot_high = combine(a.z.hot_high, b.z.hot_high, box_high);
    box.z.cold_low = combine(a.z.cold_low, b.z.cold_low, box_low);
    box.z.cold_high = combine(a.z.cold_high, b.z.cold_high, box_high);
    box.has_earth = both(a.has_earth, b.has_earth);
    box.has_neutral = both(a.has_neutral, b.has_neutral);
    box.ends_unbonded = a.ends_unbonded || b.ends_unbonded;
    if (a.ampacity.has_value() && b.ampacity.has_value()) {
        box.ampacity = std::min(*a.ampacity, *b.ampacity);
        box.ampacity_high = std::max(*a.ampacity_high, *b.ampacity_high);
    }
    box.withstand = join(a.withstand, b.withstand);
    return box;
}

} // namespace

Conductors operator*(const Conductors& c, double factor) noexcept {
    return {c.line * factor, c.earth * factor, c.neutral * factor};
}

CablePerKm per_km(const CableType& type, double armour_ac_factor, ArmourBond bond) {
    CablePerKm cable;
    const FourOhms earth = earth_of(type, armour_ac_factor, bond);
    const FourOhms line = alone(type.line);
    const FourOhms neutral = type.neutral.has_value() ? alone(*type.neutral) : FourOhms{};
    cable.z.hot_low = {line.hot_low, earth.hot_low, neutral.hot_low};
    cable.z.hot_high = {line.hot_high, earth.hot_high, neutral.hot_high};
    cable.z.cold_low = {line.cold_low, earth.cold_low, neutral.cold_low};
    cable.z.cold_high = {line.cold_high, earth.cold_high, neutral.cold_high};
    cable.has_earth = type.earth_path == EarthPath::none ? Presence::no : Presence::yes;
    cable.has_neutral = type.neutral.has_value() ? Presence::yes : Presence::no;
    cable.ends_unbonded = type.earth_path != EarthPath::armour_and_cpc;
    cable.ampacity = type.ampacity;
    cable.ampacity_high = type.ampacity;
    cable.withstand = withstand_of(type, armour_ac_factor, bond);
    return cable;
}

CablePerKm envelope(std::span<const CablePerKm> types) {
    LW_ASSERT(!types.empty());
    CablePerKm box = types.front();
    for (const CablePerKm& type : types.subspan(1)) {
        box = join(box, type);
    }
    return box;
}

} // namespace loopwalk::impedance
