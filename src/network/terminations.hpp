// What the terminations layer says about cable ends, found by cable and asset.
#pragma once

#include "loopwalk/base/finding.hpp"
#include "loopwalk/network/snap.hpp"

#include <vector>

namespace loopwalk::network {

/// A recorded termination with its ids resolved.
struct CableEnd {
    base::CableId cable;
    base::NodeId node;
    model::CableEndState state{};
    model::CutOutSide side{};
    model::EarthBond earth{};
};

/// Recorded terminations; what is not recorded is connected, on the loop side and bonded.
class Terminations {
  public:
    /// A row that names no asset or cable is a bad-value finding, and so are rows of one end that
    /// contradict each other: of those the least favourable counts.
    Terminations(const model::Layers& layers, const Snapped& snapped, base::FindingSink& findings);

    /// The row for a cable's end at a node; the default (connected, loop, bonded) if there is none.
    [[nodiscard]] CableEnd at(base::CableId cable, base::NodeId node) const;
    /// All, by cable and node.
    [[nodiscard]] const std::vector<CableEnd>& all() const noexcept { return m_ends; }
    [[nodiscard]] bool has_fused_side(base::NodeId node) const;

  private:
    /// Makes one row of all that name one end; gives the ends whose rows differ.
    [[nodiscard]] std::vector<CableEnd> merge_ends();

    std::vector<CableEnd> m_ends;            ///< sorted by (cable, node)
    std::vector<base::NodeId> m_fused_nodes; ///< sorted: columns with a cable on the fused side
};

} // namespace loopwalk::network
