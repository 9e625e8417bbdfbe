// The pieces into which the cuts divide a part, and the nearest points of their middles.
#pragma once

#include "snap_steps.hpp"
#include "snap_stretch.hpp"
#include <algorithm>
#include <set>

namespace loopwalk::network::snapping {

/// A piece of a part in measures only.
struct PieceSpan {
    PartId part;
    double from = 0.0, to = 0.0; ///< measures along the part
    NodeId from_node, to_node;
    double from_lead = 0.0, to_lead = 0.0;            ///< metres from the part as drawn to the node
    bool has_first_end = false, has_last_end = false; ///< of the part

    [[nodiscard]] bool holds(EndId end) const noexcept {
        return part == Work::part_of(end) &&
               (end == Work::first_end(part) ? has_first_end : has_last_end);
    }
};

class Pieces {
  public:
    explicit Pieces(const Work& work) : m_work(work) {}

    /// Adds a cut to those that the work holds.
    void add(const Cut& cut) { m_added.insert(cut); }
    [[nodiscard]] const auto& added() const noexcept { return m_added; }

    /// The piece that holds `measure`; at a cut the one that starts there.
    [[nodiscard]] PieceSpan at(PartId part, double measure) const;
    [[nodiscard]] PieceSpan at_end(EndId end) const;

  private:
    struct Before {
        bool operator()(const Cut& a, const Cut& b) const noexcept { return comes_before(a, b); }
    };
    void close_with(PieceSpan& piece, const Cut* before, const Cut* after) const;

    const Work& m_work;
    std::set<Cut, Before> m_added;
};

/// Nearest point of the middle of a piece: all but the first and last snap metres of its line.
struct MiddlePoint {
    PieceSpan piece;
    double distance = 0.0;
    double measure = 0.0; ///< along the part
    Point2 point;
    bool is_tie = false; ///< another place along the piece is equally near
};

/// The nearest points to `place` on the middles of the pieces along a run, one for each piece,
/// into `found`, which may hold what was found along other runs.
void find_middle_points(const Work& work, const Pieces& pieces, const NearRun& run, Point2 place,
                        std::vector<MiddlePoint>& found);

} // namespace loopwalk::network::snapping
