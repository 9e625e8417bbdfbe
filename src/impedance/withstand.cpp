#include "withstand.hpp"

#include "loopwalk/base/error.hpp"

#include <algorithm>
#include <limits>

namespace loopwalk::impedance {

namespace {

using base::AmpereSquaredSecond;
using catalogue::CableType;
using catalogue::Conductor;
using catalogue::EarthPath;
using Range = base::Bounds<AmpereSquaredSecond>;

constexpr AmpereSquaredSecond kNothing{0.0};
constexpr AmpereSquaredSecond kEverything{std::numeric_limits<double>::infinity()};
constexpr base::Celsius kCold{20.0};

/// k^2 S^2 in A2s: k in A s^0.5/mm2, S in mm2 (BS 7671 reg 434.5.2; adiabatic, up to 5 s).
Range of(const Conductor& c) {
    if (!c.k.has_value() || !c.csa.has_value()) {
        return {kNothing, kEverything};
    }
    const double k_s = (*c.k).value() * (*c.csa).value();
    const AmpereSquaredSecond least(k_s * k_s);
    // Whoever knows the resistance as a range only, knows the area as a least one.
    return {least, c.is_range() ? kEverything : least};
}

Complex at(const Conductor& c, base::Celsius t, double factor) {
    return {c.r_at(t).value() * factor, c.x.value()};
}

/// Survived by the pair when each carries its share: core |Za/(Za+Zc)|, armour |Zc/(Za+Zc)|.
AmpereSquaredSecond shared(const Range& core, const Range& armour, Complex zc, Complex za) {
    const double of_core = std::norm(za / (za + zc));
    const double of_armour = std::norm(zc / (za + zc));
    return std::min(core.high / of_core, armour.high / of_armour);
}

Range both(const CableType& type, double armour_ac_factor) {
    const Range core = of(*type.cpc);
    const Range armour = of(*type.armour);
    Conductor least = *type.armour; // carries the largest share
    least.r20 = least.r20_low.value_or(least.r20);
    AmpereSquaredSecond most = core.high;
    for (const Conductor& share : {*type.armour, least}) {
        const auto hot = shared(core, armour, at(*type.cpc, type.cpc->hot, 1.0),
                                at(share, share.hot, armour_ac_factor));
        const auto cold = shared(core, armour, at(*type.cpc, kCold, 1.0), at(share, kCold, 1.0));
        most = std::max({most, hot, cold});
    }
    return {core.low, most};
}

Range earth_of(const CableType& type, double armour_ac_factor, ArmourBond bond) {
    switch (type.earth_path) {
    case EarthPath::armour:
        return of(*type.armour);
    case EarthPath::cpc:
        return of(*type.cpc);
    case EarthPath::neutral:
        return of(*type.neutral);
    case EarthPath::armour_and_cpc:
        return bond == ArmourBond::bonded ? both(type, armour_ac_factor) : of(*type.cpc);
    case EarthPath::none:
        return Range::exactly(kEverything);
    }
    throw base::InternalError("earth path out of range");
}

Range join(const Range& a, const Range& b) {
    return {std::min(a.low, b.low), std::max(a.high, b.high)};
}

} // namespace

Withstand withstand_of(const CableType& type, double armour_ac_factor, ArmourBond bond) {
    return {of(type.line),
            type.neutral.has_value() ? of(*type.neutral) : Range::exactly(kEverything),
            earth_of(type, armour_ac_factor, bond)};
}

Withstand join(const Withstand& a, const Withstand& b) {
    return {join(a.line, b.line), join(a.neutral, b.neutral), join(a.earth, b.earth)};
}

} // namespace loopwalk::impedance
