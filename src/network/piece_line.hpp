// The line of a piece of a part: its stretch of the part as drawn, led to the nodes at both ends.
#pragma once

#include "loopwalk/base/point.hpp"

#include <span>
#include <vector>

namespace loopwalk::network::snapping {

/// A part's vertices with their measures: planar metres from the first vertex.
class MeasuredLine {
  public:
    MeasuredLine() = default;
    explicit MeasuredLine(std::span<const base::Point2> vertices) { set(vertices); }
    /// The vertices are not copied.
    void set(std::span<const base::Point2> vertices);
    [[nodiscard]] std::span<const base::Point2> vertices() const noexcept { return m_vertices; }
    [[nodiscard]] double measure(std::size_t vertex) const { return m_measures[vertex]; }
    [[nodiscard]] double length() const { return m_measures.back(); }
    /// The segment that holds `measure`; at a vertex the one that starts there, if any.
    [[nodiscard]] std::size_t segment_at(double measure) const;
    [[nodiscard]] base::Point2 point_at(double measure) const;

  private:
    std::span<const base::Point2> m_vertices;
    std::vector<double> m_measures;
};

/// Where a piece starts or stops: measure along its part, and the place of the node there.
struct PieceEnd {
    double measure = 0.0;
    base::Point2 place;
};

/// Made to be used again, so that a million pieces need no new memory.
struct PieceLine {
    base::Polyline points;             ///< at least two
    std::vector<double> arc;           ///< metres along this line, at each point
    std::vector<std::size_t> segments; ///< of the part, for each segment of this line
    double start = 0.0;                ///< arc - start = metres along the part from the piece's
                                       ///< first measure
    [[nodiscard]] double length() const { return arc.back(); }
};

void draw_piece(const MeasuredLine& part, const PieceEnd& from, const PieceEnd& to,
                PieceLine& piece);

} // namespace loopwalk::network::snapping
