// Rule 4: ends that tee into a cable's middle.
#include "slow_snap_work.hpp"
#include <algorithm>
#include <cmath>
#include <tuple>

namespace loopwalk::test {

std::size_t SlowSnap::own_piece(const SlowEnd& end) const {
    const double whole = m_layers.parts[static_cast<std::size_t>(end.part)].planar.value();
    for (std::size_t i = 0; i < m.pieces.size(); ++i) {
        const SlowPiece& piece = m.pieces[i];
        const double measure = end.is_last ? piece.to_measure : piece.from_measure;
        if (piece.part == end.part && measure == (end.is_last ? whole : 0.0) &&
            (end.is_last ? piece.to : piece.from) == end.node) {
            return i;
        }
    }
    return m.pieces.size();
}

/// Where a piece's middle comes nearest to a place: of equally near points the first.
SlowHost SlowSnap::nearest_in_middle(std::size_t index, Point2 place) const {
    const Polyline& line = m.pieces[index].line;
    const Polyline middle = between(line, m_snap, arc_length(line) - m_snap);
    const auto nearest = base::nearest_on_line(place, middle);
    SlowHost host{nearest.distance, index, -1.0, nearest.point, false};
    double arc = 0.0;
    for (std::size_t k = 0; k + 1 < middle.size(); ++k) {
        const auto here = base::nearest_on_segment(place, middle[k], middle[k + 1]);
        const double at = arc + here.fraction * distance(middle[k], middle[k + 1]);
        if (host.arc < 0.0 && here.distance <= nearest.distance + kNanometre) {
            host.arc = m_snap + at;
            host.point = here.point;
        }
        if (here.distance <= nearest.distance + kMicrometre &&
            std::abs(at - nearest.measure) > 0.01) {
            host.is_twice = true;
        }
        arc += distance(middle[k], middle[k + 1]);
    }
    return host;
}

std::vector<SlowHost> SlowSnap::hosts_of(const SlowEnd& end) const {
    std::vector<SlowHost> hosts;
    const std::size_t own = own_piece(end);
    for (std::size_t i = 0; i < m.pieces.size(); ++i) {
        const bool has_middle = arc_length(m.pieces[i].line) > 2 * m_snap + kNanometre;
        if (i == own || !conducts(m.pieces[i].cable) || !has_middle) {
            continue;
        }
        const SlowHost host = nearest_in_middle(i, end.place);
        if (within(host.distance)) {
            hosts.push_back(host);
        }
    }
    std::sort(hosts.begin(), hosts.end(),
              [](const SlowHost& a, const SlowHost& b) { return a.distance < b.distance; });
    return hosts;
}

bool SlowSnap::lies_near_node(Point2 place, int own) const {
    for (int n = 0; n < static_cast<int>(m.nodes.size()); ++n) {
        const bool counts =
            n < m_assets || std::any_of(m.ends.begin(), m.ends.end(), [&](const SlowEnd& e) {
                return e.node == n && e.conducts;
            });
        if (counts && n != own &&
            within(distance(place, m.nodes[static_cast<std::size_t>(n)].place))) {
            return true;
        }
    }
    return false;
}

/// The end's own piece, were the end led to a point.
SlowPiece SlowSnap::led_to(const SlowEnd& end, Point2 point) const {
    SlowPiece led = m.pieces[own_piece(end)];
    if (end.is_last) {
        led.line.push_back(point);
    } else {
        led.line = from_point(point, led.line);
        led.lead += distance(end.place, point);
    }
    led.line = without_repeats(led.line);
    return led;
}

bool SlowSnap::is_open_to(const SlowEnd& end, const std::vector<SlowHost>& hosts) const {
    const SlowHost& host = hosts[0];
    if (host.is_twice || (hosts.size() > 1 && hosts[1].distance <= host.distance + kMicrometre)) {
        return false;
    }
    if (differ(label(m.pieces[host.piece].cable), label(end.cable))) {
        return false;
    }
    if (lies_near_node(host.point, end.node)) {
        return false;
    }
    const auto before = cuttable(m.pieces[own_piece(end)]);
    const auto after = cuttable(led_to(end, host.point));
    return std::includes(before.begin(), before.end(), after.begin(), after.end());
}

bool SlowSnap::tee(SlowEnd& end) {
    const std::vector<SlowHost> hosts = hosts_of(end);
    const bool joins = !hosts.empty() && is_open_to(end, hosts);
    end.is_ambiguous = !hosts.empty() && !joins;
    if (!joins) {
        return false;
    }
    const SlowHost& host = hosts[0];
    const std::size_t own = own_piece(end);
    m.pieces[own] = led_to(end, host.point);
    m.nodes[static_cast<std::size_t>(end.node)].place = host.point;
    split(host.piece, host.arc, host.point, end.node);
    return true;
}

void SlowSnap::rule_4() {
    std::vector<SlowEnd*> waiting;
    for (SlowEnd& end : m.ends) {
        const auto mates = std::count_if(m.ends.begin(), m.ends.end(),
                                         [&](const SlowEnd& o) { return o.node == end.node; });
        if (end.node >= m_assets && end.conducts && !end.is_ambiguous && mates == 1) {
            waiting.push_back(&end);
        }
    }
    std::sort(waiting.begin(), waiting.end(), [](const SlowEnd* a, const SlowEnd* b) {
        return std::tie(a->cable, a->place, a->part, a->is_last) <
               std::tie(b->cable, b->place, b->part, b->is_last);
    });
    for (bool changed = true; changed;) {
        changed = false;
        for (auto it = waiting.begin(); it != waiting.end();) {
            const bool done = tee(**it);
            changed = changed || done;
            it = done ? waiting.erase(it) : it + 1;
        }
    }
}

} // namespace loopwalk::test
