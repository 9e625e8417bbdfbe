// Voltages of constant-power loads on one or three phases, in circuits of any shape (method.md
// section 9): each phase's line is a network of its own, the neutral carries their vector sum.
#pragma once

#include "loopwalk/solution/nodal.hpp"

#include <array>
#include <optional>

namespace loopwalk::solution {

/// One conductor of a circuit: what potential its nodes take when loads draw current at them.
class DropNetwork {
  public:
    using Complex = std::complex<double>; ///< volts, amperes or ohm
    /// A piece of the conductor.
    struct Branch {
        std::uint32_t a, b; ///< the nodes that it joins
        Complex ohms;       ///< 0 joins the two nodes
    };
    /// `held`: the nodes at the terminals of the supply. Precondition: every node is joined to one.
    DropNetwork(std::uint32_t nodes, std::vector<Branch> branches,
                const std::vector<std::uint32_t>& held);

    /// Drop from the terminals to each node, V, for the currents drawn at the nodes, A.
    [[nodiscard]] std::vector<Complex> drops(const std::vector<Complex>& currents) const;
    /// Current through a branch from its `a` to its `b`; none through one without impedance.
    [[nodiscard]] Complex current(std::size_t branch, const std::vector<Complex>& drops) const;
    /// Number of nodes.
    [[nodiscard]] std::uint32_t size() const noexcept {
        return static_cast<std::uint32_t>(m_node_of.size());
    }

  private:
    std::vector<Branch> m_branches;
    std::vector<std::uint32_t> m_node_of; ///< nodes that branches without impedance join are one
    std::optional<NodalNetwork> m_net;
};

/// A load of constant power between a line and the neutral.
struct PhaseLoad {
    std::uint32_t node = 0;  ///< where it draws
    std::uint32_t phase = 0; ///< 0, 1, 2: at 0, -120, -240 degrees
    std::complex<double> va; ///< lagging positive
};

/// Voltages that satisfy all loads.
struct PhaseSolution {
    std::array<std::vector<std::complex<double>>, 3> line; ///< drop along each line, V
    std::vector<std::complex<double>> neutral;             ///< drop along the neutral, V
    double u0 = 0.0;                                       ///< line to neutral at the terminals, V
    /// Magnitude of the voltage from a line to the neutral at a node, V.
    [[nodiscard]] double volts(std::uint32_t node, std::uint32_t phase) const;
};

/// Fixed point of the currents: ended when the change, carried on at the rate at which it shrinks,
/// is below 1e-12 of u0. None: no voltage satisfies the loads (collapse).
[[nodiscard]] std::optional<PhaseSolution> solve_phases(const DropNetwork& line,
                                                        const DropNetwork& neutral,
                                                        const std::vector<PhaseLoad>& loads,
                                                        double u0);

} // namespace loopwalk::solution
