#include "random_map.hpp"

#include "loopwalk/base/text.hpp"

#include <cmath>

namespace loopwalk::test {

namespace {

using base::Point2;
using base::Polyline;

class Maker {
  public:
    explicit Maker(std::uint64_t seed) : m_random(seed) {
        m_is_lattice = one_in(2);
        m_width = 1.0 + number(0, 5);
        m_labels = number(0, 3);
        m_has_statuses = one_in(3);
        if (one_in(3)) { // as large as national grids
            m_origin = {431200.0, 286400.0};
        }
    }
    RandomMap make() {
        RandomMap map;
        add_points(map.supplies, "S", number(0, 1));
        add_points(map.columns, "C", number(0, 5));
        add_points(map.joints, "J", number(0, 2));
        const int cables = one_in(20) ? number(8, 20) : number(1, 7);
        for (int i = 0; i < cables; ++i) {
            map.cables.push_back(cable(i));
        }
        return map;
    }

  private:
    int number(int low, int high) {
        // Not uniform_int_distribution, which differs between libraries.
        return low + static_cast<int>(m_random() % static_cast<std::uint64_t>(high - low + 1));
    }
    bool one_in(int n) { return number(1, n) == 1; }
    double coordinate() {
        if (m_is_lattice) {
            return number(0, static_cast<int>(m_width * 10)) / 10.0;
        }
        return m_width * number(0, 1000000) / 1e6;
    }
    Point2 new_place() {
        const double x = coordinate();
        return {m_origin.x + x, m_origin.y + coordinate()};
    }
    Point2 anywhere() {
        if (!m_used.empty() && one_in(3)) {
            return m_used[static_cast<std::size_t>(number(0, static_cast<int>(m_used.size()) - 1))];
        }
        if (!m_used.empty() && one_in(3)) {
            const Point2 near =
                m_used[static_cast<std::size_t>(number(0, static_cast<int>(m_used.size()) - 1))];
            return {near.x + number(-5, 5) / 10.0, near.y + number(-5, 5) / 10.0};
        }
        m_used.push_back(new_place());
        return m_used.back();
    }
    void add_points(std::vector<PointRecord>& points, const std::string& prefix, int count) {
        for (int i = 0; i < count; ++i) {
            points.push_back({prefix + std::to_string(i), anywhere()});
        }
    }
    Polyline line() {
        Polyline points{anywhere()};
        const int segments = one_in(6) ? number(5, 20) : number(1, 4);
        for (int i = 0; i < segments; ++i) {
            const Point2 next = anywhere();
            if (next != points.back()) {
                points.push_back(next);
            }
        }
        while (points.size() < 2) {
            const Point2 next = new_place();
            if (next != points.back()) {
                points.push_back(next);
            }
        }
        return points;
    }
    CableRecord cable(int number_of_cable) {
        CableRecord record;
        record.id = std::string(1, static_cast<char>('a' + number_of_cable));
        const int label = number(0, m_labels);
        record.circuit = label == 0 ? "" : std::string(1, static_cast<char>('W' + label));
        const int parts = one_in(6) ? number(2, 3) : 1;
        for (int i = 0; i < parts; ++i) {
            record.lines.push_back(line());
        }
        if (m_has_statuses && one_in(4)) {
            record.status = one_in(2) ? model::Status::removed : model::Status::proposed;
        }
        return record;
    }

    std::mt19937_64 m_random;
    bool m_is_lattice = false;
    double m_width = 1.0;
    int m_labels = 0;
    bool m_has_statuses = false;
    Point2 m_origin;
    std::vector<Point2> m_used;
};

/// Fisher and Yates; std::shuffle differs between libraries.
template <class T>
void shuffle(std::vector<T>& items, std::mt19937_64& random) {
    for (std::size_t i = items.size(); i > 1; --i) {
        std::swap(items[i - 1], items[random() % i]);
    }
}

std::string text_of(const Polyline& line) {
    std::string text = "{";
    for (const Point2 p : line) {
        text += "{" + base::number_text(p.x) + ", " + base::number_text(p.y) + "}, ";
    }
    return text + "}";
}

} // namespace

RandomMap make_map(std::uint64_t seed) {
    return Maker(seed).make();
}

RandomMap shuffled(RandomMap map, std::uint64_t seed) {
    std::mt19937_64 random(seed);
    shuffle(map.supplies, random);
    shuffle(map.columns, random);
    shuffle(map.joints, random);
    shuffle(map.cables, random);
    for (CableRecord& cable : map.cables) {
        shuffle(cable.lines, random);
        for (Polyline& line : cable.lines) {
            if (random() % 2 == 0) {
                std::reverse(line.begin(), line.end());
            }
        }
    }
    return map;
}

model::Layers layers_of(const RandomMap& map) {
    LayersBuilder builder;
    for (const PointRecord& p : map.supplies) {
        builder.add_supply(p.id, p.place.x, p.place.y);
    }
    for (const PointRecord& p : map.columns) {
        builder.add_column(p.id, p.place.x, p.place.y);
    }
    for (const PointRecord& p : map.joints) {
        builder.add_joint(p.id, p.place.x, p.place.y);
    }
    for (const CableRecord& c : map.cables) {
        builder.add_cable_of_parts(c.id, c.lines, c.circuit).status = c.status;
    }
    return builder.finish();
}

std::string text_of(const RandomMap& map) {
    std::string text;
    const auto add_points = [&](const char* call, const std::vector<PointRecord>& points) {
        for (const PointRecord& p : points) {
            text += std::string(call) + "(\"" + p.id + "\", " + base::number_text(p.place.x) +
                    ", " + base::number_text(p.place.y) + ");\n";
        }
    };
    add_points("add_supply", map.supplies);
    add_points("add_column", map.columns);
    add_points("add_joint", map.joints);
    for (const CableRecord& c : map.cables) {
        text += "add_cable_of_parts(\"" + c.id + "\", {";
        for (const Polyline& line : c.lines) {
            text += text_of(line) + ", ";
        }
        text += "}, \"" + c.circuit + "\"); // status " +
                std::to_string(static_cast<int>(c.status)) + "\n";
    }
    return text;
}

} // namespace loopwalk::test
