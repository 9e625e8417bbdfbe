#include "loopwalk/solution/lost_neutral.hpp"

#include <cmath>

namespace loopwalk::solution {

/// Load and electrodes in series on u0: V_load = u0 - V, V = R * S / V_load, so
/// V^2 - u0*V + R*S = 0, of which the smaller root is the one that the lamps start from. R: ohm,
/// S: VA, taken in phase with the resistance, which gives the larger voltage.
base::Volt lost_neutral_voltage(base::Volt u0, base::Watt apparent,
                                base::Maybe<base::Ohm> electrodes) {
    if (!electrodes.has_value()) {
        return u0;
    }
    const double u = u0.value();
    const double rest = u * u - 4.0 * (*electrodes).value() * apparent.value();
    return rest < 0.0 ? u0 : base::Volt((u - std::sqrt(rest)) / 2.0);
}

} // namespace loopwalk::solution
