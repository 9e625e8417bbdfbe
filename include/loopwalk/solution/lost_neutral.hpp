// Voltage of metalwork beyond a lost combined neutral and earth (method.md section 10).
#pragma once

#include "loopwalk/base/quantity.hpp"

namespace loopwalk::solution {

/// The loads beyond, constant in power, return through the electrodes beyond, all in parallel.
/// `apparent`: VA at u0, >= 0. `electrodes`: absent where none is known: then u0. At most u0, also
/// where no voltage satisfies the loads.
[[nodiscard]] base::Volt lost_neutral_voltage(base::Volt u0, base::Watt apparent,
                                              base::Maybe<base::Ohm> electrodes);

} // namespace loopwalk::solution
