// A fault that heats conductors, as the files that judge heat share it.
#pragma once

#include "loopwalk/protection/heat.hpp"
#include "loopwalk/protection/let_through.hpp"

#include <limits>

namespace loopwalk::protection {

/// What one fault lets pass, and what stands behind its current.
struct Heat::Fault {
    LetThrough passed{base::AmpereSquaredSecond(0.0),
                      base::AmpereSquaredSecond(std::numeric_limits<double>::infinity()),
                      LetThroughAmbiguity::none};
    const DeviceChoices* device = nullptr;
    Reason no_current = Reason::none; ///< why there is no current to judge by
    bool is_largest = false;
    bool source_missing = false; ///< nothing recorded: the current is sure at neither bound
    bool source_assumed = false;
    bool is_divided = false; ///< several devices clear it: all of their heat together
};

/// k^2 S^2 of one conductor.
inline const base::Bounds<base::AmpereSquaredSecond>&
withstand_of(const impedance::Withstand& withstand, Core core) {
    switch (core) {
    case Core::line:
        return withstand.line;
    case Core::neutral:
        return withstand.neutral;
    case Core::earth_path:
        break;
    }
    return withstand.earth;
}

/// Of two checks, the one to report.
[[nodiscard]] inline bool is_worse(const HeatCheck& a, const HeatCheck& b) {
    return a.verdict != b.verdict ? a.verdict < b.verdict : a.ratio() > b.ratio();
}

} // namespace loopwalk::protection
