// Rule 3: cuts at assets.
#include "slow_snap_work.hpp"
#include <algorithm>
#include <cmath>
#include <tuple>

namespace loopwalk::test {

namespace {

/// Of equally near places the first along the line.
void place_at_first_minimum(SlowStretch& s, const Polyline& line) {
    double best = std::numeric_limits<double>::infinity();
    double first = best;
    for (const auto& [d, at] : s.minima) {
        if (d > s.nearest + kMicrometre) {
            continue;
        }
        first = std::min(first, at);
        if (at <= first + 0.01 && d < best - kNanometre) {
            best = d;
            s.arc = at;
        }
    }
    s.point = base::point_at(line, s.arc);
}

} // namespace

std::vector<SlowStretch> SlowSnap::stretches(const Polyline& line, int asset) const {
    const Point2 p = m.nodes[static_cast<std::size_t>(asset)].place;
    const double r = m_snap + kNanometre;
    std::vector<SlowStretch> result;
    double arc = 0.0;
    bool open = false;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const Point2 a = line[i];
        const Point2 b = line[i + 1];
        const double length = distance(a, b);
        // |a + t (b - a) - p|^2 = r^2
        const double qa = length * length;
        const double qb = 2 * ((a.x - p.x) * (b.x - a.x) + (a.y - p.y) * (b.y - a.y));
        const double qc = (a.x - p.x) * (a.x - p.x) + (a.y - p.y) * (a.y - p.y) - r * r;
        const auto nearest = base::nearest_on_segment(p, a, b);
        if (within(nearest.distance)) {
            const double root = std::sqrt(std::max(0.0, qb * qb - 4 * qa * qc));
            const double t0 = std::clamp((-qb - root) / (2 * qa), 0.0, 1.0);
            const double t1 = std::clamp((-qb + root) / (2 * qa), 0.0, 1.0);
            if (!(open && within(distance(a, p)))) {
                result.emplace_back();
                result.back().asset = asset;
                result.back().enter = arc + t0 * length;
                result.back().touches_start = i == 0 && within(distance(a, p));
            }
            SlowStretch& s = result.back();
            s.leave = arc + t1 * length;
            s.touches_end = i + 2 == line.size() && within(distance(b, p));
            s.minima.emplace_back(nearest.distance, arc + nearest.fraction * length);
            s.nearest = std::min(s.nearest, nearest.distance);
            open = within(distance(b, p));
        } else {
            open = false;
        }
        arc += length;
    }
    for (SlowStretch& s : result) {
        place_at_first_minimum(s, line);
    }
    return result;
}

std::vector<SlowStretch> SlowSnap::free_stretches(const SlowPiece& piece) const {
    std::vector<SlowStretch> result;
    for (int a = 0; a < m_assets; ++a) {
        for (const SlowStretch& s : stretches(piece.line, a)) {
            if (!(s.touches_start && piece.from == a) && !(s.touches_end && piece.to == a)) {
                result.push_back(s);
            }
        }
    }
    return result;
}

bool SlowSnap::in_reach_of_middle(const SlowPiece& piece, const SlowStretch& s) const {
    const double low = m_snap + kMicrometre;
    const double high = arc_length(piece.line) - low;
    return low < high && s.enter < high && s.leave > low;
}

bool SlowSnap::may_cut(const SlowPiece& piece, const SlowStretch& s) const {
    const Polyline& line = piece.line;
    const double first = distance(line[0], line[1]);
    const double last = distance(line[line.size() - 2], line.back());
    const double low = first <= m_snap + 2 * kNanometre ? first : 0.0;
    const double high = arc_length(line) - (last <= m_snap + 2 * kNanometre ? last : 0.0);
    for (const auto& [d, arc] : s.minima) {
        if (d <= s.nearest + kMicrometre && !(arc > low + kNanometre && arc < high - kNanometre)) {
            return false;
        }
    }
    return in_reach_of_middle(piece, s);
}

bool SlowSnap::is_admitted(int asset, int cable) const {
    bool others = false;
    for (const SlowEnd& end : m.ends) {
        if (end.node == asset && end.conducts) {
            if (label(cable).is_valid() && label(end.cable) == label(cable)) {
                return true;
            }
            others = others || end.cable != cable;
        }
    }
    return !others;
}

namespace {

/// Whether two stretches have one of their nearest places in common.
bool meet(const SlowStretch& a, const SlowStretch& b) {
    for (const auto& [da, arc_a] : a.minima) {
        for (const auto& [db, arc_b] : b.minima) {
            if (da <= a.nearest + kMicrometre && db <= b.nearest + kMicrometre &&
                std::abs(arc_a - arc_b) <= kMicrometre) {
                return true;
            }
        }
    }
    return false;
}

} // namespace

std::vector<SlowCut> SlowSnap::cuts_of(const SlowPiece& piece) const {
    std::vector<SlowCut> cuts;
    const std::vector<SlowStretch> all = free_stretches(piece);
    for (const SlowStretch& s : all) {
        bool tie = false;
        for (const SlowStretch& other : all) {
            tie = tie || (other.asset != s.asset &&
                          std::abs(other.nearest - s.nearest) <= kMicrometre && meet(other, s));
        }
        for (int a = 0; a < m_assets; ++a) {
            tie =
                tie || (a != s.asset &&
                        distance(m.nodes[static_cast<std::size_t>(a)].place,
                                 m.nodes[static_cast<std::size_t>(s.asset)].place) <= kMicrometre);
        }
        if (!tie && may_cut(piece, s) && is_admitted(s.asset, piece.cable)) {
            cuts.push_back({s.asset, s.arc, s.point});
        }
    }
    // To a nanometre, so that assets straight across from each other keep their own order.
    const auto key = [&](const SlowCut& cut) {
        return std::pair(std::round((piece.from_measure + cut.arc - piece.lead) * 1e9), cut.asset);
    };
    std::sort(cuts.begin(), cuts.end(),
              [&](const SlowCut& x, const SlowCut& y) { return key(x) < key(y); });
    return cuts;
}

/// What could be cut if every cable were admitted, ties or not: asset and place in micrometres.
std::set<std::pair<int, long>> SlowSnap::cuttable(const SlowPiece& piece) const {
    std::set<std::pair<int, long>> result;
    for (const SlowStretch& s : free_stretches(piece)) {
        if (may_cut(piece, s)) {
            result.emplace(s.asset, std::lround((s.point.x * 31 + s.point.y) * 1e5));
        }
    }
    return result;
}

/// Cuts a piece at a point of its line that goes to `node`.
void SlowSnap::split(std::size_t index, double arc, Point2 at, int node) {
    SlowPiece& first = m.pieces[index];
    SlowPiece second = first;
    const Point2 place = m.nodes[static_cast<std::size_t>(node)].place;
    const double exact = std::round((first.from_measure + arc - first.lead) * 1e9) / 1e9;
    const double measure = std::clamp(exact, first.from_measure, first.to_measure);
    Polyline head = between(first.line, 0.0, arc);
    Polyline tail = between(first.line, arc, arc_length(first.line));
    head.back() = at;
    tail.front() = at;
    head.push_back(place);
    first.line = without_repeats(head);
    second.line = without_repeats(from_point(place, tail));
    first.to = node;
    second.from = node;
    first.to_measure = measure;
    second.from_measure = measure;
    second.lead = distance(at, place);
    m.pieces.push_back(second);
}

void SlowSnap::rule_3() {
    for (std::size_t p = 0; p < m_layers.parts.size(); ++p) {
        const auto line = m_layers.line(m_layers.parts[p]);
        const SlowEnd& a = m.ends[2 * p];
        const SlowEnd& b = m.ends[2 * p + 1];
        Polyline led{m.nodes[static_cast<std::size_t>(a.node)].place};
        led.insert(led.end(), line.begin(), line.end());
        led.push_back(m.nodes[static_cast<std::size_t>(b.node)].place);
        m.pieces.push_back({a.cable, static_cast<int>(p), a.node, b.node, 0.0,
                            m_layers.parts[p].planar.value(), without_repeats(led),
                            distance(led.front(), line.front())});
    }
    for (std::size_t i = 0; i < m.pieces.size(); ++i) {
        if (!conducts(m.pieces[i].cable)) {
            continue;
        }
        for (bool more = true; more;) {
            const std::vector<SlowCut> cuts = cuts_of(m.pieces[i]);
            more = !cuts.empty();
            // From the far end, so that arcs measured on the whole piece stay right. The new
            // pieces are looked at when their turn comes.
            for (auto cut = cuts.rbegin(); cut != cuts.rend(); ++cut) {
                split(i, cut->arc, cut->point, cut->asset);
            }
        }
    }
}

} // namespace loopwalk::test
