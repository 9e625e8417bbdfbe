// Heat that a device lets pass before it has opened, I2t, over the currents and devices that the
// records allow (method.md section 8).
#pragma once

#include "loopwalk/protection/device.hpp"

namespace loopwalk::protection {

/// Why `high` of a let-through is unbounded, or no more than a bound.
enum class LetThroughAmbiguity : std::uint8_t {
    none,
    device_unknown, ///< no rating, or no curve that bounds it
    too_long,       ///< longer than 5 s, where the adiabatic equation ends, or not in the table
    above_table,    ///< current above the table and no total I2t on record: a bound only
};

/// I2t that passes before a device has opened, A2s.
struct LetThrough {
    base::AmpereSquaredSecond low;  ///< at least this much passes; 0 where nothing is sure
    base::AmpereSquaredSecond high; ///< at most; infinite where nothing bounds it
    LetThroughAmbiguity ambiguity = LetThroughAmbiguity::none; ///< what makes `high` uncertain
};

/// Over fault currents from `lowest` to `highest` (> 0, lowest <= highest). Time by the slow edge;
/// above the table's largest current the total I2t of the device where it is known, else for a
/// cartridge fuse what passes at that largest current, else I^2 times the shortest time.
[[nodiscard]] LetThrough let_through(const DeviceChoices& device, base::Ampere lowest,
                                     base::Ampere highest);

} // namespace loopwalk::protection
