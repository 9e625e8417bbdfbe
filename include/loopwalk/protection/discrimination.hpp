// Whether of two devices in series only the lower opens (method.md section 9).
#pragma once

#include "loopwalk/protection/device.hpp"

namespace loopwalk::protection {

/// Whether the lower of two devices opens before the upper begins to.
enum class Discriminates : std::uint8_t { no, undecided, yes };

/// How a pair was compared, and what came of it.
struct Discrimination {
    Discriminates verdict = Discriminates::undecided; ///< of the worst pair that the records allow
    bool by_i2t = false; ///< pre-arcing I2t over total I2t; else rating over rating
    double ratio = 0.0;  ///< 0: nothing to compare
    double needed = 0.0; ///< 0: no rule for this pair
    /// How near it comes to what is needed; for choosing the worst.
    [[nodiscard]] double share() const noexcept { return needed > 0.0 ? ratio / needed : 0.0; }
};

/// By I2t where the total of the lower and the pre-arcing value of the upper are known. Else two
/// fuses of one standard by the ratios of the rules; the standard's 1.6 for gG is of its own
/// steps, so that 32 to 50 A counts (IEC 60269-1). Different standards, or a breaker without
/// data: undecided. Over all that the records allow; the worst pair is told.
[[nodiscard]] Discrimination discrimination(const DeviceChoices& lower, const DeviceChoices& upper,
                                            const config::Rules& rules);

} // namespace loopwalk::protection
