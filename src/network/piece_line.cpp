#include "piece_line.hpp"

#include "snap_work.hpp"
#include <algorithm>

namespace loopwalk::network::snapping {

namespace {

/// Leaves out points that are no further than rounding from the one before.
void append(PieceLine& piece, base::Point2 point, std::size_t segment) {
    const double step = base::distance(piece.points.back(), point);
    if (step <= kSlack) {
        return;
    }
    piece.points.push_back(point);
    piece.arc.push_back(piece.arc.back() + step);
    piece.segments.push_back(segment);
}

/// Appends the last point, which stays exactly where it is.
void close(PieceLine& piece, base::Point2 point, std::size_t segment) {
    if (piece.points.size() > 1 && base::distance(piece.points.back(), point) <= kSlack) {
        piece.points.back() = point;
        return;
    }
    piece.arc.push_back(piece.arc.back() + base::distance(piece.points.back(), point));
    piece.points.push_back(point);
    piece.segments.push_back(segment);
}

} // namespace

void MeasuredLine::set(std::span<const base::Point2> vertices) {
    m_vertices = vertices;
    m_measures.clear();
    double measure = 0.0;
    for (std::size_t i = 0; i < vertices.size(); ++i) {
        measure += i == 0 ? 0.0 : base::distance(vertices[i - 1], vertices[i]);
        m_measures.push_back(measure);
    }
}

std::size_t MeasuredLine::segment_at(double measure) const {
    const auto after = std::upper_bound(m_measures.begin(), m_measures.end(), measure);
    const auto vertex = static_cast<std::size_t>(after - m_measures.begin());
    return std::clamp<std::size_t>(vertex, 1, m_measures.size() - 1) - 1;
}

base::Point2 MeasuredLine::point_at(double measure) const {
    const std::size_t s = segment_at(measure);
    const double step = m_measures[s + 1] - m_measures[s];
    const base::Point2 a = m_vertices[s];
    const base::Point2 b = m_vertices[s + 1];
    if (measure <= m_measures[s]) {
        return a;
    }
    if (measure >= m_measures[s + 1]) {
        return b;
    }
    const double fraction = (measure - m_measures[s]) / step;
    return {a.x + (b.x - a.x) * fraction, a.y + (b.y - a.y) * fraction};
}

void draw_piece(const MeasuredLine& part, const PieceEnd& from, const PieceEnd& to,
                PieceLine& piece) {
    piece.points.assign(1, from.place);
    piece.arc.assign(1, 0.0);
    piece.segments.clear();
    std::size_t s = part.segment_at(from.measure);
    append(piece, part.point_at(from.measure), s);
    piece.start = piece.arc.back();
    for (; s + 1 < part.vertices().size() && part.measure(s + 1) < to.measure; ++s) {
        append(piece, part.vertices()[s + 1], s);
    }
    s = std::min(s, part.vertices().size() - 2);
    append(piece, part.point_at(to.measure), s);
    close(piece, to.place, s);
}

} // namespace loopwalk::network::snapping
