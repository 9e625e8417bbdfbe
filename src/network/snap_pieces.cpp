#include "snap_pieces.hpp"

#include <cmath>
#include <limits>

namespace loopwalk::network::snapping {

namespace {

constexpr double kEndless = std::numeric_limits<double>::infinity();

/// The cuts of a part just before (or at) and just after a measure; null where there is none.
template <class Cuts, class After>
std::pair<const Cut*, const Cut*> neighbours(const Cuts& cuts, After after, PartId part) {
    const Cut* const next = after != cuts.end() && after->part == part ? &*after : nullptr;
    if (after == cuts.begin()) {
        return {nullptr, next};
    }
    --after;
    return {after->part == part ? &*after : nullptr, next};
}

const Cut* later(const Cut* a, const Cut* b) {
    if (a == nullptr || b == nullptr) {
        return a == nullptr ? b : a;
    }
    return comes_before(*a, *b) ? b : a;
}

const Cut* earlier(const Cut* a, const Cut* b) {
    if (a == nullptr || b == nullptr) {
        return a == nullptr ? b : a;
    }
    return comes_before(*a, *b) ? a : b;
}

/// Nearest point of a segment, kept between two measures.
MiddlePoint nearest_between(Point2 place, Point2 a, Point2 b, double start, double low,
                            double high) {
    const double length = base::distance(a, b);
    const base::NearestOnSegment nearest = base::nearest_on_segment(place, a, b);
    const double measure = start + nearest.fraction * length;
    if (measure >= low && measure <= high) {
        return {{}, nearest.distance, measure, nearest.point};
    }
    // The distance grows towards both sides of the nearest point, so the bound is nearest.
    const double kept = std::clamp(measure, low, high);
    const double fraction = (kept - start) / length;
    const Point2 point{a.x + (b.x - a.x) * fraction, a.y + (b.y - a.y) * fraction};
    return {{}, base::distance(place, point), kept, point};
}

/// Of points on one piece the nearest stays, of equally near ones the first.
void merge(MiddlePoint& kept, const MiddlePoint& point) {
    const double nearer = kept.distance - point.distance; // by so much the new one is
    if (nearer > kTie) {
        kept = point;
        return;
    }
    const bool is_apart = std::abs(point.measure - kept.measure) > kSamePlace;
    const bool is_tie = kept.is_tie || (nearer >= -kTie && is_apart);
    if (nearer > kSlack) {
        kept = point;
    }
    kept.is_tie = is_tie;
}

void keep_nearest(std::vector<MiddlePoint>& found, const MiddlePoint& point) {
    const auto same = std::find_if(found.begin(), found.end(), [&](const MiddlePoint& other) {
        return other.piece.part == point.piece.part && other.piece.from == point.piece.from;
    });
    if (same == found.end()) {
        found.push_back(point);
    } else {
        merge(*same, point);
    }
}

void find_in_piece(const Work& work, const PieceSpan& piece, const NearRun& run, Point2 place,
                   std::vector<MiddlePoint>& found) {
    const double low = piece.from + std::max(0.0, work.snap - piece.from_lead);
    const double high = piece.to - std::max(0.0, work.snap - piece.to_lead);
    const std::span<const Point2> line = work.run_line(run.part, run.run);
    double start = run.start;
    for (std::size_t i = 0; i + 1 < line.size() && low + kSlack < high; ++i) {
        const double stop = start + base::distance(line[i], line[i + 1]);
        if (stop >= low && start <= high && start < stop) {
            MiddlePoint here = nearest_between(place, line[i], line[i + 1], start,
                                               std::max(low, start), std::min(high, stop));
            here.piece = piece;
            keep_nearest(found, here);
        }
        start = stop;
    }
}

} // namespace

PieceSpan Pieces::at(PartId part, double measure) const {
    const Cut key{part, measure, NodeId(), {}, 0.0, {}}; // an invalid id comes last
    const auto [held_before, held_after] = neighbours(
        m_work.cuts, std::upper_bound(m_work.cuts.begin(), m_work.cuts.end(), key, comes_before),
        part);
    const auto [new_before, new_after] = neighbours(m_added, m_added.upper_bound(key), part);
    PieceSpan piece;
    piece.part = part;
    close_with(piece, later(held_before, new_before), earlier(held_after, new_after));
    return piece;
}

PieceSpan Pieces::at_end(EndId end) const {
    const PartId part = Work::part_of(end);
    return at(part, end == Work::first_end(part) ? -kEndless : kEndless);
}

void Pieces::close_with(PieceSpan& piece, const Cut* before, const Cut* after) const {
    const auto lead = [&](EndId end) {
        return base::distance(m_work.drawn_place(end), m_work.place(m_work.end(end).node));
    };
    const EndId first = Work::first_end(piece.part);
    const EndId last = Work::last_end(piece.part);
    piece.has_first_end = before == nullptr;
    piece.has_last_end = after == nullptr;
    piece.from = before != nullptr ? before->measure : 0.0;
    piece.from_node = before != nullptr ? before->node : m_work.end(first).node;
    piece.from_lead = before != nullptr ? before->moved : lead(first);
    piece.to = after != nullptr ? after->measure : m_work.part(piece.part).planar.value();
    piece.to_node = after != nullptr ? after->node : m_work.end(last).node;
    piece.to_lead = after != nullptr ? after->moved : lead(last);
}

void find_middle_points(const Work& work, const Pieces& pieces, const NearRun& run, Point2 place,
                        std::vector<MiddlePoint>& found) {
    const double stop = run.start + base::length(work.run_line(run.part, run.run));
    for (double measure = run.start; measure <= stop;) {
        const PieceSpan piece = pieces.at(run.part, measure);
        find_in_piece(work, piece, run, place, found);
        if (piece.has_last_end) {
            break;
        }
        measure = piece.to;
    }
}

} // namespace loopwalk::network::snapping
