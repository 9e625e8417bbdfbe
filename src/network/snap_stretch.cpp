#include "snap_stretch.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace loopwalk::network::snapping {

namespace {

/// Along a segment of length `length` from `a` to `b`: the bit that lies within `radius` of `p`,
/// which comes at least that near.
std::pair<double, double> within_circle(Point2 p, Point2 a, Point2 b, double length,
                                        double radius) {
    const double ux = (b.x - a.x) / length;
    const double uy = (b.y - a.y) / length;
    const double along = (p.x - a.x) * ux + (p.y - a.y) * uy;
    const double across = (p.x - a.x) * uy - (p.y - a.y) * ux;
    const double half = std::sqrt(std::max(0.0, radius * radius - across * across));
    return {std::clamp(along - half, 0.0, length), std::clamp(along + half, 0.0, length)};
}

} // namespace

void PassingFinder::add_contact(NodeId asset, std::size_t segment) {
    const Point2 a = m_line.points[segment];
    const Point2 b = m_line.points[segment + 1];
    const Point2 p = m_work.place(asset);
    if (is_far(p, a, b, m_work.snap + kTie)) {
        return;
    }
    const base::NearestOnSegment nearest = base::nearest_on_segment(p, a, b);
    if (!m_work.within_snap(nearest.distance)) {
        return;
    }
    const double start = m_line.arc[segment];
    const double length = m_line.arc[segment + 1] - start;
    const auto [enter, leave] =
        length > 0.0 ? within_circle(p, a, b, length, m_work.snap + kSlack) : std::pair(0.0, 0.0);
    m_contacts.push_back({asset, segment, start + enter, start + leave,
                          m_work.within_snap(base::distance(p, a)),
                          m_work.within_snap(base::distance(p, b)), nearest.distance,
                          start + nearest.fraction * length, nearest.point});
}

void PassingFinder::find_contacts(PartId part) {
    m_contacts.clear();
    for (std::size_t s = 0; s < m_line.segments.size(); ++s) {
        for (const NodeId asset : m_work.hits_of(m_work.run_of(part, m_line.segments[s]))) {
            add_contact(asset, s);
        }
    }
    std::sort(m_contacts.begin(), m_contacts.end(), [](const Contact& a, const Contact& b) {
        return std::tie(a.asset, a.segment) < std::tie(b.asset, b.segment);
    });
}

bool PassingFinder::ends_there(const Piece& piece, Contacts stretch) const {
    const Contact& first = stretch.front();
    const Contact& last = stretch.back();
    const bool at_start = first.segment == 0 && first.from_start;
    const bool at_end = last.segment + 1 == m_line.segments.size() && last.to_end;
    return (at_start && piece.from_node == first.asset) || (at_end && piece.to_node == last.asset);
}

bool PassingFinder::reaches_middle(Contacts stretch) const {
    const double start = m_work.snap + kTie;
    const double stop = m_line.length() - start;
    return start < stop && stretch.front().enter < stop && stretch.back().leave > start;
}

bool PassingFinder::is_clear_of_ends(double arc) const {
    // A first or last segment no longer than snap may lead to the node instead of being drawn.
    const std::size_t last = m_line.segments.size() - 1;
    const auto lead = [&](std::size_t segment) {
        const double length = m_line.arc[segment + 1] - m_line.arc[segment];
        return length <= m_work.snap + 2.0 * kSlack ? length : 0.0;
    };
    return arc > lead(0) + kSlack && arc < m_line.length() - lead(last) - kSlack;
}

/// Of equally near places the first along the piece.
const PassingFinder::Contact& PassingFinder::first_nearest(Contacts stretch) {
    const double least =
        std::min_element(stretch.begin(), stretch.end(), is_nearer)->distance + kTie;
    const auto first = std::find_if(stretch.begin(), stretch.end(),
                                    [&](const Contact& c) { return c.distance <= least; });
    const auto last = std::find_if(
        first, stretch.end(), [&](const Contact& c) { return c.arc > first->arc + kSamePlace; });
    const double here = std::min_element(first, last, is_nearer)->distance + kSlack;
    return *std::find_if(first, last, [&](const Contact& c) { return c.distance <= here; });
}

void PassingFinder::add_stretch(const Piece& piece, Contacts stretch) {
    if (ends_there(piece, stretch)) {
        return;
    }
    const Contact& nearest = first_nearest(stretch);
    Passing found{nearest.asset, nearest.distance, nearest.arc, nearest.point, true};
    found.is_tie = has_twin(piece.part, nearest);
    found.reaches_middle = reaches_middle(stretch);
    for (const Contact& c : stretch) {
        if (c.distance <= nearest.distance + kTie) {
            found.can_cut = found.can_cut && is_clear_of_ends(c.arc);
            m_minima.emplace_back(c.arc, m_found.size());
        }
    }
    m_found.push_back(found);
}

bool PassingFinder::has_twin(PartId part, const Contact& contact) const {
    const std::span<const NodeId> hits =
        m_work.hits_of(m_work.run_of(part, m_line.segments[contact.segment]));
    const Point2 place = m_work.place(contact.asset);
    return std::any_of(hits.begin(), hits.end(), [&](NodeId other) {
        return other != contact.asset && base::distance(place, m_work.place(other)) <= kTie;
    });
}

void PassingFinder::mark_tie(std::size_t a, std::size_t b) {
    Passing& one = m_found[a];
    Passing& other = m_found[b];
    if (one.asset != other.asset && std::abs(one.distance - other.distance) <= kTie) {
        one.is_tie = other.is_tie = true;
    }
}

void PassingFinder::mark_ties() {
    std::sort(m_minima.begin(), m_minima.end());
    for (std::size_t i = 0; i < m_minima.size(); ++i) {
        for (std::size_t j = i + 1;
             j < m_minima.size() && m_minima[j].first - m_minima[i].first <= kTie; ++j) {
            mark_tie(m_minima[i].second, m_minima[j].second);
        }
    }
}

const std::vector<Passing>& PassingFinder::find(const MeasuredLine& part, const Piece& piece) {
    draw_piece(part, piece.from, piece.to, m_line);
    m_found.clear();
    m_minima.clear();
    find_contacts(piece.part);
    for (std::size_t from = 0; from < m_contacts.size();) {
        std::size_t to = from + 1;
        while (to < m_contacts.size() && m_contacts[to].asset == m_contacts[from].asset &&
               m_contacts[to].segment == m_contacts[to - 1].segment + 1 &&
               m_contacts[to - 1].to_end && m_contacts[to].from_start) {
            ++to;
        }
        add_stretch(piece, Contacts(m_contacts).subspan(from, to - from));
        from = to;
    }
    mark_ties();
    std::erase_if(m_found, [](const Passing& p) { return !p.reaches_middle; });
    return m_found;
}

} // namespace loopwalk::network::snapping
