#include "slow_snap.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <tuple>

namespace loopwalk::test {

namespace {

using base::distance;
using base::Point2;
using base::Polyline;

constexpr double kMicrometre = 1e-6;
constexpr double kNanometre = 1e-9;

/// A stretch of a line within snap of an asset.
struct SlowStretch {
    int asset = 0;
    double enter = 0.0, leave = 0.0;
    double nearest = std::numeric_limits<double>::infinity();
    double arc = 0.0;
    Point2 point;
    bool touches_start = false, touches_end = false;
    std::vector<std::pair<double, double>> minima; ///< distance, arc: one for each segment
};

struct SlowCut {
    int asset = 0;
    double arc = 0.0;
    Point2 point;
};

class SlowSnap {
  public:
    SlowSnap(const model::Layers& layers, double snap) : m_layers(layers), m_snap(snap) {}
    SlowResult run() {
        collect();
        rule_1();
        rule_2();
        rule_3();
        rule_4();
        std::sort(m.pieces.begin(), m.pieces.end(), [](const SlowPiece& a, const SlowPiece& b) {
            return std::tie(a.part, a.from_measure, a.to_measure, a.from, a.to) <
                   std::tie(b.part, b.from_measure, b.to_measure, b.from, b.to);
        });
        return std::move(m);
    }

  private:
    [[nodiscard]] bool within(double d) const { return d <= m_snap + kNanometre; }
    [[nodiscard]] base::TextId label(int cable) const {
        return m_layers.cables[static_cast<std::size_t>(cable)].circuit;
    }
    [[nodiscard]] bool conducts(int cable) const {
        return model::conducts(m_layers.cables[static_cast<std::size_t>(cable)].status);
    }
    static bool differ(base::TextId a, base::TextId b) {
        return a.is_valid() && b.is_valid() && a != b;
    }

    void collect();
    void rule_1();
    void rule_2();
    void cluster_group(std::vector<SlowEnd*> group);
    void rule_3();
    [[nodiscard]] std::vector<SlowStretch> stretches(const Polyline& line, int asset) const;
    [[nodiscard]] std::vector<SlowStretch> free_stretches(const SlowPiece& piece) const;
    [[nodiscard]] bool in_reach_of_middle(const SlowPiece& piece, const SlowStretch& s) const;
    [[nodiscard]] bool may_cut(const SlowPiece& piece, const SlowStretch& s) const;
    [[nodiscard]] bool is_admitted(int asset, int cable) const;
    [[nodiscard]] std::vector<SlowCut> cuts_of(const SlowPiece& piece) const;
    [[nodiscard]] std::set<std::pair<int, long>> cuttable(const SlowPiece& piece) const;
    void split(std::size_t piece, double arc, Point2 at, int node);
    void rule_4();
    bool tee(SlowEnd& end);

    const model::Layers& m_layers;
    double m_snap;
    int m_assets = 0;
    SlowResult m;
};

double arc_length(const Polyline& line) {
    return base::length(line);
}

/// The line between two arcs, by walking along it.
Polyline between(const Polyline& line, double low, double high) {
    Polyline result{base::point_at(line, low)};
    double arc = 0.0;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        if (arc > low && arc < high)
            result.push_back(line[i]);
        arc += distance(line[i], line[i + 1]);
    }
    result.push_back(base::point_at(line, high));
    return result;
}

/// The line, led from a point to its start.
Polyline from_point(Point2 start, const Polyline& line) {
    Polyline result{start};
    result.insert(result.end(), line.begin(), line.end());
    return result;
}

Polyline without_repeats(const Polyline& line) {
    Polyline result;
    for (const Point2 p : line)
        if (result.empty() || distance(result.back(), p) > kNanometre)
            result.push_back(p);
    if (result.size() == 1)
        result.push_back(line.back());
    result.back() = line.back();
    return result;
}

void SlowSnap::collect() {
    const auto add = [&](const auto& assets) {
        for (const auto& asset : assets)
            if (asset.has_place)
                m.nodes.push_back({m_assets++, asset.place});
    };
    add(m_layers.supplies);
    add(m_layers.columns);
    add(m_layers.joints);
    for (std::size_t p = 0; p < m_layers.parts.size(); ++p) {
        const auto line = m_layers.line(m_layers.parts[p]);
        const int cable = static_cast<int>(m_layers.parts[p].cable.index());
        m.ends.push_back({cable, static_cast<int>(p), false, line.front(), -1, conducts(cable)});
        m.ends.push_back({cable, static_cast<int>(p), true, line.back(), -1, conducts(cable)});
    }
}

void SlowSnap::rule_1() {
    for (SlowEnd& end : m.ends) {
        std::vector<std::pair<double, int>> near;
        for (int a = 0; a < m_assets; ++a)
            near.emplace_back(distance(end.place, m.nodes[static_cast<std::size_t>(a)].place), a);
        std::sort(near.begin(), near.end());
        if (near.empty() || !within(near[0].first))
            continue;
        if (near.size() > 1 && near[1].first <= near[0].first + kMicrometre)
            end.is_ambiguous = end.conducts;
        else
            end.node = near[0].second;
    }
}

void SlowSnap::rule_2() {
    std::vector<SlowEnd*> left;
    for (SlowEnd& end : m.ends)
        if (end.node < 0 && end.conducts && !end.is_ambiguous)
            left.push_back(&end);
    std::sort(left.begin(), left.end(), [](const SlowEnd* a, const SlowEnd* b) {
        return std::tie(a->cable, a->place, a->part, a->is_last) <
               std::tie(b->cable, b->place, b->part, b->is_last);
    });
    std::vector<SlowEnd*> rest = left;
    while (!rest.empty()) {
        std::vector<SlowEnd*> group{rest.front()};
        rest.erase(rest.begin());
        for (std::size_t i = 0; i < group.size(); ++i)
            for (auto it = rest.begin(); it != rest.end();) {
                if (within(distance(group[i]->place, (*it)->place))) {
                    group.push_back(*it);
                    it = rest.erase(it);
                } else {
                    ++it;
                }
            }
        std::vector<SlowEnd*> ordered;
        for (SlowEnd* end : left)
            if (std::find(group.begin(), group.end(), end) != group.end())
                ordered.push_back(end);
        cluster_group(ordered);
    }
    for (SlowEnd& end : m.ends)
        if (end.node < 0) {
            end.node = static_cast<int>(m.nodes.size());
            m.nodes.push_back({-1, end.place});
        }
}

void SlowSnap::cluster_group(std::vector<SlowEnd*> group) {
    std::set<base::TextId> labels;
    bool has_null = false;
    for (const SlowEnd* end : group) {
        has_null = has_null || !label(end->cable).is_valid();
        if (label(end->cable).is_valid())
            labels.insert(label(end->cable));
    }
    std::vector<std::pair<const SlowEnd*, const SlowEnd*>> stubs;
    for (const SlowEnd* a : group)
        for (const SlowEnd* b : group)
            if (a->part == b->part && !a->is_last && b->is_last && a->place != b->place &&
                m_layers.parts[static_cast<std::size_t>(a->part)].planar.value() <=
                    2 * m_snap + kNanometre)
                stubs.emplace_back(a, b);
    const bool contested = labels.size() > 1;
    const bool frozen = (contested && has_null) || !stubs.empty();
    const auto labels_at = [&](Point2 place) {
        std::set<base::TextId> here;
        for (const SlowEnd* end : group)
            if (end->place == place && label(end->cable).is_valid())
                here.insert(label(end->cable));
        return here.size();
    };
    for (SlowEnd* seed : group) {
        if (seed->node >= 0)
            continue;
        const int node = static_cast<int>(m.nodes.size());
        m.nodes.push_back({-1, seed->place});
        for (SlowEnd* end : group) {
            if (end->node >= 0)
                continue;
            const bool same = label(end->cable) == label(seed->cable);
            const bool joins =
                frozen ? end->place == seed->place && (same || labels_at(seed->place) < 2)
                       : within(distance(end->place, seed->place)) && (same || !contested);
            if (joins)
                end->node = node;
        }
    }
    if (!contested && !frozen)
        return;
    const auto is_alone = [&](const SlowEnd* end) {
        return 1 == std::count_if(group.begin(), group.end(),
                                  [&](const SlowEnd* o) { return o->node == end->node; });
    };
    const auto rival = [&](const SlowEnd* a, const SlowEnd* b) {
        const bool by_stub = std::any_of(stubs.begin(), stubs.end(), [&](const auto& s) {
            return (s.first->node == a->node && s.second->node == b->node) ||
                   (s.second->node == a->node && s.first->node == b->node);
        });
        return a->node != b->node && !by_stub &&
               within(distance(m.nodes[static_cast<std::size_t>(a->node)].place,
                               m.nodes[static_cast<std::size_t>(b->node)].place));
    };
    bool any = false;
    for (SlowEnd* a : group)
        for (const SlowEnd* b : group)
            if (rival(a, b)) {
                any = true;
                a->is_ambiguous = a->is_ambiguous || is_alone(a);
            }
    for (SlowEnd* end : group)
        end->is_ambiguous = end->is_ambiguous || (any && frozen && is_alone(end));
}

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
    for (SlowStretch& s : result) { // the first of the equally near places
        double best = std::numeric_limits<double>::infinity();
        double first = best;
        for (const auto& [d, at] : s.minima) {
            if (d > s.nearest + kMicrometre)
                continue;
            first = std::min(first, at);
            if (at <= first + 0.01 && d < best - kNanometre) {
                best = d;
                s.arc = at;
            }
        }
        s.point = base::point_at(line, s.arc);
    }
    return result;
}

std::vector<SlowStretch> SlowSnap::free_stretches(const SlowPiece& piece) const {
    std::vector<SlowStretch> result;
    for (int a = 0; a < m_assets; ++a)
        for (const SlowStretch& s : stretches(piece.line, a))
            if (!(s.touches_start && piece.from == a) && !(s.touches_end && piece.to == a))
                result.push_back(s);
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
    for (const auto& [d, arc] : s.minima)
        if (d <= s.nearest + kMicrometre && !(arc > low + kNanometre && arc < high - kNanometre))
            return false;
    return in_reach_of_middle(piece, s);
}

bool SlowSnap::is_admitted(int asset, int cable) const {
    bool others = false;
    for (const SlowEnd& end : m.ends)
        if (end.node == asset && end.conducts) {
            if (label(cable).is_valid() && label(end.cable) == label(cable))
                return true;
            others = others || end.cable != cable;
        }
    return !others;
}

/// Whether two stretches have one of their nearest places in common.
bool meet(const SlowStretch& a, const SlowStretch& b) {
    for (const auto& [da, arc_a] : a.minima)
        for (const auto& [db, arc_b] : b.minima)
            if (da <= a.nearest + kMicrometre && db <= b.nearest + kMicrometre &&
                std::abs(arc_a - arc_b) <= kMicrometre)
                return true;
    return false;
}

std::vector<SlowCut> SlowSnap::cuts_of(const SlowPiece& piece) const {
    std::vector<SlowCut> cuts;
    const std::vector<SlowStretch> all = free_stretches(piece);
    for (const SlowStretch& s : all) {
        bool tie = false;
        for (const SlowStretch& other : all)
            tie = tie || (other.asset != s.asset &&
                          std::abs(other.nearest - s.nearest) <= kMicrometre && meet(other, s));
        for (int a = 0; a < m_assets; ++a)
            tie =
                tie || (a != s.asset &&
                        distance(m.nodes[static_cast<std::size_t>(a)].place,
                                 m.nodes[static_cast<std::size_t>(s.asset)].place) <= kMicrometre);
        if (!tie && may_cut(piece, s) && is_admitted(s.asset, piece.cable))
            cuts.push_back({s.asset, s.arc, s.point});
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
    for (const SlowStretch& s : free_stretches(piece))
        if (may_cut(piece, s))
            result.emplace(s.asset, std::lround((s.point.x * 31 + s.point.y) * 1e5));
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
        if (!conducts(m.pieces[i].cable))
            continue;
        for (bool more = true; more;) {
            const std::vector<SlowCut> cuts = cuts_of(m.pieces[i]);
            more = !cuts.empty();
            // From the far end, so that arcs measured on the whole piece stay right. The new
            // pieces are looked at when their turn comes.
            for (auto cut = cuts.rbegin(); cut != cuts.rend(); ++cut)
                split(i, cut->arc, cut->point, cut->asset);
        }
    }
}

bool SlowSnap::tee(SlowEnd& end) {
    struct Host {
        double distance = 0.0;
        std::size_t piece = 0;
        double arc = 0.0;
        Point2 point;
        bool is_twice = false; // equally near in another place
    };
    std::vector<Host> hosts;
    std::size_t own = 0;
    const double whole = m_layers.parts[static_cast<std::size_t>(end.part)].planar.value();
    for (std::size_t i = 0; i < m.pieces.size(); ++i) {
        const SlowPiece& piece = m.pieces[i];
        const bool is_own = piece.part == end.part &&
                            (end.is_last ? piece.to_measure == whole : piece.from_measure == 0.0) &&
                            (end.is_last ? piece.to : piece.from) == end.node;
        if (is_own)
            own = i;
        const double length = arc_length(piece.line);
        if (is_own || !conducts(piece.cable) || length <= 2 * m_snap + kNanometre)
            continue;
        const Polyline middle = between(piece.line, m_snap, length - m_snap);
        const auto nearest = base::nearest_on_line(end.place, middle);
        if (!within(nearest.distance))
            continue;
        hosts.push_back({nearest.distance, i, -1.0, nearest.point});
        double arc = 0.0;
        for (std::size_t k = 0; k + 1 < middle.size(); ++k) {
            const auto here = base::nearest_on_segment(end.place, middle[k], middle[k + 1]);
            const double step = distance(middle[k], middle[k + 1]);
            if (hosts.back().arc < 0.0 && here.distance <= nearest.distance + kNanometre) {
                hosts.back().arc = m_snap + arc + here.fraction * step;
                hosts.back().point = here.point;
            }
            if (here.distance <= nearest.distance + kMicrometre &&
                std::abs(arc + here.fraction * step - nearest.measure) > 0.01)
                hosts.back().is_twice = true;
            arc += step;
        }
    }
    std::sort(hosts.begin(), hosts.end(),
              [](const Host& a, const Host& b) { return a.distance < b.distance; });
    end.is_ambiguous = !hosts.empty();
    if (hosts.empty())
        return false;
    const Host& host = hosts[0];
    if (host.is_twice)
        return false;
    if (hosts.size() > 1 && hosts[1].distance <= host.distance + kMicrometre)
        return false;
    if (differ(label(m.pieces[host.piece].cable), label(end.cable)))
        return false;
    for (int n = 0; n < static_cast<int>(m.nodes.size()); ++n) {
        const bool counts =
            n < m_assets || std::any_of(m.ends.begin(), m.ends.end(), [&](const SlowEnd& e) {
                return e.node == n && e.conducts;
            });
        if (counts && n != end.node &&
            within(distance(host.point, m.nodes[static_cast<std::size_t>(n)].place)))
            return false;
    }
    SlowPiece led = m.pieces[own];
    if (end.is_last)
        led.line.push_back(host.point);
    else
        led.line = from_point(host.point, led.line);
    led.line = without_repeats(led.line);
    const auto before = cuttable(m.pieces[own]);
    for (const auto& cut : cuttable(led))
        if (!before.contains(cut))
            return false;
    if (!end.is_last)
        led.lead += distance(end.place, host.point);
    m.pieces[own] = led;
    m.nodes[static_cast<std::size_t>(end.node)].place = host.point;
    split(host.piece, host.arc, host.point, end.node);
    end.is_ambiguous = false;
    return true;
}

void SlowSnap::rule_4() {
    std::vector<SlowEnd*> waiting;
    for (SlowEnd& end : m.ends) {
        const auto mates = std::count_if(m.ends.begin(), m.ends.end(),
                                         [&](const SlowEnd& o) { return o.node == end.node; });
        if (end.node >= m_assets && end.conducts && !end.is_ambiguous && mates == 1)
            waiting.push_back(&end);
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

} // namespace

SlowResult slow_snap(const model::Layers& layers, double snap) {
    return SlowSnap(layers, snap).run();
}

} // namespace loopwalk::test
