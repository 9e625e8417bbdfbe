// Exact impedances of a network of one conductor, whatever loops it holds.
//
// Star-mesh elimination (a node with branches y_i to its neighbours is replaced by branches
// y_i*y_j / sum(y) between them) in the order of fewest neighbours: a node at the end of a branch
// or in the middle of a run costs nothing, so the cost grows with the loops and not with the length
// of the circuit. Only sums, products and quotients of admittances of one quadrant occur, never a
// difference, so a millimetre beside a kilometre loses no digits. Going back over the eliminated
// nodes gives the driving-point impedance of every node and the transfer impedance of every branch:
// the same numbers as z_tree(n) - b' * Zloop^-1 * b of docs/method.md, without a dense matrix.
#pragma once

#include <complex>
#include <cstdint>
#include <span>
#include <utility>
#include <vector>

namespace loopwalk::solution {

/// One conductor's network as complex admittances between nodes, of which some are held at zero.
class NodalNetwork {
  public:
    using Complex = std::complex<double>; ///< ohm, siemens or volts

    explicit NodalNetwork(std::uint32_t nodes);

    /// Number of nodes.
    [[nodiscard]] std::size_t size() const noexcept { return m_own.size(); }
    /// A branch of `ohms` between two nodes; branches between the same nodes are in parallel, one
    /// from a node to itself does nothing. Precondition: `ohms` is not zero (join such nodes).
    void connect(std::uint32_t a, std::uint32_t b, Complex ohms);
    /// Keeps a node at zero potential. Before solve().
    void hold(std::uint32_t node);
    /// Cost: linear in the nodes plus the fill-in of the loops.
    void solve();

    // After solve():

    /// False: no branch leads from the node to a held one.
    [[nodiscard]] bool is_held_up(std::uint32_t node) const { return m_reaches[node] != 0; }
    /// Potential of a node per ampere put into it, ohm; 0 for a held node. Needs is_held_up.
    [[nodiscard]] Complex driving_point(std::uint32_t node) const { return m_own[node]; }
    /// Potential of one node per ampere put into the other, ohm. The two must be the ends of a
    /// branch. Needs is_held_up.
    [[nodiscard]] Complex transfer(std::uint32_t a, std::uint32_t b) const;
    /// Potentials for currents put into the nodes, in their place, V. Nodes that nothing holds up
    /// take no current and get zero.
    void potentials(std::span<Complex> currents) const;

  private:
    /// A neighbour left at the time of elimination.
    struct Link {
        std::uint32_t node;
        Complex weight; ///< its share in the eliminated node's potential
        Complex transfer;
    };
    void eliminate(std::uint32_t node);
    void add_branch(std::uint32_t a, std::uint32_t b, Complex siemens);
    void trace_back();

    std::vector<std::vector<std::pair<std::uint32_t, Complex>>> m_branches; ///< siemens, by node
    std::vector<std::vector<Link>> m_links;                                 ///< sorted by node
    std::vector<std::uint32_t> m_order;                                     ///< eliminated nodes
    std::vector<std::uint32_t> m_rank; ///< position in m_order; held nodes: the largest
    std::vector<Complex> m_sum;        ///< siemens at elimination
    std::vector<Complex> m_own;
    std::vector<std::uint8_t> m_is_held, m_reaches;
};

} // namespace loopwalk::solution
