// Which few extra resistances explain what readings show above their prediction: arithmetic alone,
// it knows no network. docs/method.md section 11.
#pragma once

#include "loopwalk/base/quantity.hpp"

#include <cstdint>
#include <span>
#include <vector>

namespace loopwalk::suspects {

/// What one reading shows above its prediction.
struct Excess {
    base::Ohm ohms;  ///< reading less prediction; may be negative
    base::Ohm sigma; ///< standard deviation of that; above zero
};

/// Readings whose path leads through a place, ascending; not empty.
using Beyond = std::vector<std::uint32_t>;

/// A place and what it hides if it is one of those at fault.
struct Explanation {
    std::uint32_t place = 0;    ///< index in `places`
    base::Ohm extra, low, high; ///< in the best explanation that holds it; two standard deviations
    double share = 0.0;         ///< of the weight of all explanations, those that hold it
};

/// Tries no place, every one, and every two and three of `places` together, each by non-negative
/// least squares, with a price for each place; most likely first. Places that the same readings
/// are beyond cannot be told apart: name them as one. Above 40 places only the 40 that do best
/// alone or with another are taken in threes. Cost: square of the places, and the readings of them.
[[nodiscard]] std::vector<Explanation> explain(std::span<const Excess> readings,
                                               std::span<const Beyond> places);

} // namespace loopwalk::suspects
