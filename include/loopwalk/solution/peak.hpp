// Where a function of one variable is highest.
#pragma once

#include <cmath>

namespace loopwalk::solution {

/// Place in 0 to 1 where a continuous function is highest: the best of `kLooks` even steps, then
/// golden-section search around it. Impedance along a section of a mesh is a parabola in each of
/// its parts, so the steps cannot miss its summit.
template <class Function>
[[nodiscard]] double highest_at(Function f) {
    constexpr int kLooks = 16;
    int best = 0;
    double highest = f(0.0);
    for (int i = 1; i <= kLooks; ++i) {
        const double value = f(static_cast<double>(i) / kLooks);
        if (value > highest) {
            highest = value;
            best = i;
        }
    }
    constexpr double kGolden = 0.6180339887498949;
    constexpr double kNearEnough = 1e-9;
    double left = std::fmax(0.0, static_cast<double>(best - 1) / kLooks);
    double right = std::fmin(1.0, static_cast<double>(best + 1) / kLooks);
    while (right - left > kNearEnough) {
        const double a = right - kGolden * (right - left);
        const double b = left + kGolden * (right - left);
        if (f(a) < f(b)) {
            left = a;
        } else {
            right = b;
        }
    }
    // The summit of a ring whose far end is flat may be an end of the section itself.
    const double found = (left + right) / 2.0;
    return f(found) > highest ? found : static_cast<double>(best) / kLooks;
}

} // namespace loopwalk::solution
