// The order of the rules, and rules 1 and 2: ends of cables to assets and to each other.
#include "slow_snap_work.hpp"
#include <algorithm>
#include <cmath>
#include <tuple>

namespace loopwalk::test {

double arc_length(const Polyline& line) {
    return base::length(line);
}

Polyline between(const Polyline& line, double low, double high) {
    Polyline result{base::point_at(line, low)};
    double arc = 0.0;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        if (arc > low && arc < high) {
            result.push_back(line[i]);
        }
        arc += distance(line[i], line[i + 1]);
    }
    result.push_back(base::point_at(line, high));
    return result;
}

Polyline from_point(Point2 start, const Polyline& line) {
    Polyline result{start};
    result.insert(result.end(), line.begin(), line.end());
    return result;
}

Polyline without_repeats(const Polyline& line) {
    Polyline result;
    for (const Point2 p : line) {
        if (result.empty() || distance(result.back(), p) > kNanometre) {
            result.push_back(p);
        }
    }
    if (result.size() == 1) {
        result.push_back(line.back());
    }
    result.back() = line.back();
    return result;
}

SlowResult SlowSnap::run() {
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

void SlowSnap::collect() {
    const auto add = [&](const auto& assets) {
        for (const auto& asset : assets) {
            if (asset.has_place) {
                m.nodes.push_back({m_assets++, asset.place});
            }
        }
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
        for (int a = 0; a < m_assets; ++a) {
            near.emplace_back(distance(end.place, m.nodes[static_cast<std::size_t>(a)].place), a);
        }
        std::sort(near.begin(), near.end());
        if (near.empty() || !within(near[0].first)) {
            continue;
        }
        if (near.size() > 1 && near[1].first <= near[0].first + kMicrometre) {
            end.is_ambiguous = end.conducts;
        } else {
            end.node = near[0].second;
        }
    }
}

void SlowSnap::rule_2() {
    std::vector<SlowEnd*> left;
    for (SlowEnd& end : m.ends) {
        if (end.node < 0 && end.conducts && !end.is_ambiguous) {
            left.push_back(&end);
        }
    }
    std::sort(left.begin(), left.end(), [](const SlowEnd* a, const SlowEnd* b) {
        return std::tie(a->cable, a->place, a->part, a->is_last) <
               std::tie(b->cable, b->place, b->part, b->is_last);
    });
    std::vector<SlowEnd*> rest = left;
    while (!rest.empty()) {
        std::vector<SlowEnd*> group{rest.front()};
        rest.erase(rest.begin());
        for (std::size_t i = 0; i < group.size(); ++i) {
            for (auto it = rest.begin(); it != rest.end();) {
                if (within(distance(group[i]->place, (*it)->place))) {
                    group.push_back(*it);
                    it = rest.erase(it);
                } else {
                    ++it;
                }
            }
        }
        std::vector<SlowEnd*> ordered;
        for (SlowEnd* end : left) {
            if (std::find(group.begin(), group.end(), end) != group.end()) {
                ordered.push_back(end);
            }
        }
        cluster_group(ordered);
    }
    for (SlowEnd& end : m.ends) {
        if (end.node < 0) {
            end.node = static_cast<int>(m.nodes.size());
            m.nodes.push_back({-1, end.place});
        }
    }
}

void SlowSnap::cluster_group(std::vector<SlowEnd*> group) {
    std::set<base::TextId> labels;
    bool has_null = false;
    for (const SlowEnd* end : group) {
        has_null = has_null || !label(end->cable).is_valid();
        if (label(end->cable).is_valid()) {
            labels.insert(label(end->cable));
        }
    }
    std::vector<std::pair<const SlowEnd*, const SlowEnd*>> stubs;
    for (const SlowEnd* a : group) {
        for (const SlowEnd* b : group) {
            if (a->part == b->part && !a->is_last && b->is_last && a->place != b->place &&
                m_layers.parts[static_cast<std::size_t>(a->part)].planar.value() <=
                    2 * m_snap + kNanometre) {
                stubs.emplace_back(a, b);
            }
        }
    }
    const bool contested = labels.size() > 1;
    const bool frozen = (contested && has_null) || !stubs.empty();
    const auto labels_at = [&](Point2 place) {
        std::set<base::TextId> here;
        for (const SlowEnd* end : group) {
            if (end->place == place && label(end->cable).is_valid()) {
                here.insert(label(end->cable));
            }
        }
        return here.size();
    };
    for (SlowEnd* seed : group) {
        if (seed->node >= 0) {
            continue;
        }
        const int node = static_cast<int>(m.nodes.size());
        m.nodes.push_back({-1, seed->place});
        for (SlowEnd* end : group) {
            if (end->node >= 0) {
                continue;
            }
            const bool same = label(end->cable) == label(seed->cable);
            const bool joins =
                frozen ? end->place == seed->place && (same || labels_at(seed->place) < 2)
                       : within(distance(end->place, seed->place)) && (same || !contested);
            if (joins) {
                end->node = node;
            }
        }
    }
    if (!contested && !frozen) {
        return;
    }
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
    for (SlowEnd* a : group) {
        for (const SlowEnd* b : group) {
            if (rival(a, b)) {
                any = true;
                a->is_ambiguous = a->is_ambiguous || is_alone(a);
            }
        }
    }
    for (SlowEnd* end : group) {
        end->is_ambiguous = end->is_ambiguous || (any && frozen && is_alone(end));
    }
}

SlowResult slow_snap(const model::Layers& layers, double snap) {
    return SlowSnap(layers, snap).run();
}

} // namespace loopwalk::test
