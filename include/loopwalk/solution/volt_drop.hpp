// Voltages along a radial single-phase circuit with constant-power loads (method.md section 9).
#pragma once

#include <complex>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace loopwalk::solution {

/// A tree with its infeed first and parents before children.
struct RadialCircuit {
    std::vector<std::uint32_t> parent;           ///< position of the parent; unused for the infeed
    std::vector<std::complex<double>> impedance; ///< line + neutral of the branch to it, ohm
    std::vector<std::complex<double>> power;     ///< load at it, VA, lagging positive
    /// As before the first add(), memory kept.
    void clear();
    /// The next vertex, behind all that were added; of the infeed the parent means nothing.
    void add(std::uint32_t parent_position, std::complex<double> ohms, std::complex<double> va);
};

/// Voltages and currents that satisfy all loads, by position.
struct RadialSolution {
    std::vector<std::complex<double>> voltage; ///< line to neutral, V
    std::vector<std::complex<double>> current; ///< in the branch to it (the infeed: total), A
};

/// Backward-forward sweeps until all changes still to come are below 1e-12 of u0.
/// None if the loads cannot be carried: voltage collapse.
[[nodiscard]] std::optional<RadialSolution> solve_radial(const RadialCircuit& circuit, double u0);

} // namespace loopwalk::solution
