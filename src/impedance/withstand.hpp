// Heat that the conductors of a cable survive (method.md section 8).
#pragma once

#include "loopwalk/impedance/impedance.hpp"

namespace loopwalk::impedance {

/// Armour and core together as earth path: low with all the current in the core, high with the
/// current shared as their impedances demand.
[[nodiscard]] Withstand withstand_of(const catalogue::CableType& type, double armour_ac_factor,
                                     ArmourBond bond);

/// Smallest and largest of two types, conductor by conductor.
[[nodiscard]] Withstand join(const Withstand& a, const Withstand& b);

} // namespace loopwalk::impedance
