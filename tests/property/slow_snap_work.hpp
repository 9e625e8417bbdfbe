// The working of slow_snap(), shared by its source files.
#pragma once

#include "slow_snap.hpp"
#include <limits>
#include <set>
#include <utility>

namespace loopwalk::test {

using base::distance;
using base::Point2;
using base::Polyline;

inline constexpr double kMicrometre = 1e-6;
inline constexpr double kNanometre = 1e-9;

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

/// Where an end may tee.
struct SlowHost {
    double distance = 0.0;
    std::size_t piece = 0;
    double arc = 0.0;
    Point2 point;
    bool is_twice = false; ///< equally near in another place
};

class SlowSnap {
  public:
    SlowSnap(const model::Layers& layers, double snap) : m_layers(layers), m_snap(snap) {}
    [[nodiscard]] SlowResult run();

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
    [[nodiscard]] std::size_t own_piece(const SlowEnd& end) const;
    [[nodiscard]] SlowHost nearest_in_middle(std::size_t index, Point2 place) const;
    [[nodiscard]] std::vector<SlowHost> hosts_of(const SlowEnd& end) const;
    [[nodiscard]] bool lies_near_node(Point2 place, int own) const;
    [[nodiscard]] SlowPiece led_to(const SlowEnd& end, Point2 point) const;
    [[nodiscard]] bool is_open_to(const SlowEnd& end, const std::vector<SlowHost>& hosts) const;

    const model::Layers& m_layers;
    double m_snap;
    int m_assets = 0;
    SlowResult m;
};

[[nodiscard]] double arc_length(const Polyline& line);
/// The line between two arcs, by walking along it.
[[nodiscard]] Polyline between(const Polyline& line, double low, double high);
/// The line, led from a point to its start.
[[nodiscard]] Polyline from_point(Point2 start, const Polyline& line);
[[nodiscard]] Polyline without_repeats(const Polyline& line);

} // namespace loopwalk::test
