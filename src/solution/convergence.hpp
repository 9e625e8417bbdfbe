// When a fixed-point iteration of voltages has arrived, and when it never will.
#pragma once

#include <cmath>
#include <utility>

namespace loopwalk::solution {

class Convergence {
  public:
    enum class State : unsigned char { going_on, reached, failed };
    explicit Convergence(double u0) : m_u0(u0) {}

    /// Notes the change of a voltage in the sweep at hand, V. What is no number stands: no largest
    /// of the others may hide it.
    void note(double change) {
        m_largest = change <= m_largest || std::isnan(m_largest) ? m_largest : change;
    }

    /// Ends a sweep.
    [[nodiscard]] State look() {
        const double change = std::exchange(m_largest, 0.0);
        constexpr double kTolerance = 1e-12; // of u0, of all changes still to come
        constexpr int kMostSweeps = 20000;   // arrives within 1e-6 of the load that collapses
        // Short of collapse changes fall at least as the square of the sweeps.
        constexpr int kSettledSweeps = 200;
        constexpr double kSettled = 1e-3;
        ++m_sweeps;
        if (!std::isfinite(change) || m_sweeps > kMostSweeps ||
            (m_sweeps > kSettledSweeps && change > kSettled * m_u0)) {
            return State::failed;
        }
        // Changes shrink by a constant factor in the end: their sum is that of a geometric series.
        const double rate = m_last > 0.0 ? change / m_last : 0.0;
        m_last = change;
        const double to_come = rate < 1.0 ? change * rate / (1.0 - rate) : change;
        const bool arrived = change <= kTolerance * m_u0 &&
                             (to_come <= kTolerance * m_u0 || change <= kRounding * m_u0);
        return arrived ? State::reached : State::going_on;
    }

  private:
    static constexpr double kRounding = 1e-15;
    double m_u0;
    double m_largest = 0.0; ///< change in the sweep at hand
    double m_last = 0.0;    ///< largest change of the sweep before
    int m_sweeps = 0;
};

} // namespace loopwalk::solution
