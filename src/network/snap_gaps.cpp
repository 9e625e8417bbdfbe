// Ends that hang loose, and what they or an unreached asset miss by no more than reach.
#include "point_grid.hpp"
#include "snap_pieces.hpp"
#include "snap_report.hpp"
#include <limits>
#include <tuple>

namespace loopwalk::network::snapping {

namespace {

/// What is nearest to a seeker: a node, or a point on the middle of a piece.
struct Candidate {
    double distance = std::numeric_limits<double>::infinity();
    NodeId node; ///< invalid: a middle. Nodes come by kind, so their order is that of kinds
    PartId part;
    double measure = 0.0;
    Point2 point;

    [[nodiscard]] bool is_better_than(const Candidate& other) const {
        return std::tie(distance, node, part, measure) <
               std::tie(other.distance, other.node, other.part, other.measure);
    }
};

class GapFinder {
  public:
    GapFinder(const Work& work, const RunsInReach& near, const std::vector<EndId>& derived);
    /// The nearest within reach, if any.
    [[nodiscard]] std::optional<Gap> find(std::size_t number);

  private:
    void look_at_assets(const Seeker& seeker);
    void look_at_derived(const Seeker& seeker);
    void look_at_middles(std::size_t number);
    void take(const Candidate& candidate);
    [[nodiscard]] bool is_apart(NodeId node, const Seeker& seeker) const;

    const Work& m_work;
    const RunsInReach& m_near;
    Pieces m_pieces;
    std::vector<bool> m_in_use;
    PointGrid m_derived;
    std::vector<std::uint32_t> m_found;
    std::vector<MiddlePoint> m_middles;
    Candidate m_best; // of one seeker, as are the next three
    Point2 m_place;
    NodeId m_joined; // the node at the other end of the seeker's own section
    CableId m_cable; // the seeker's own
};

GapFinder::GapFinder(const Work& work, const RunsInReach& near, const std::vector<EndId>& derived)
    : m_work(work), m_near(near), m_pieces(work), m_in_use(nodes_in_use(work)),
      m_derived(std::max(work.reach, work.snap), derived.size()) {
    NodeId last; // ends come by the first of their node, so a new node is a larger one
    for (const EndId id : derived) {
        if (const NodeId node = work.end(id).node; !last.is_valid() || node > last) {
            last = node;
            if (m_in_use[node.index()]) {
                m_derived.insert(work.place(node), static_cast<std::uint32_t>(node.index()));
            }
        }
    }
}

bool GapFinder::is_apart(NodeId node, const Seeker& seeker) const {
    return node != seeker.node && node != m_joined;
}

void GapFinder::take(const Candidate& candidate) {
    if (candidate.distance <= m_work.reach + kSlack && candidate.is_better_than(m_best)) {
        m_best = candidate;
    }
}

void GapFinder::look_at_assets(const Seeker& seeker) {
    m_work.assets->query(box_around(m_place, m_work.reach + kSlack), m_found);
    for (const std::uint32_t asset : m_found) {
        const NodeId node(asset);
        if (is_apart(node, seeker) && (seeker.end.is_valid() || m_in_use[asset])) {
            take({base::distance(m_place, m_work.place(node)), node, {}, 0.0, m_work.place(node)});
        }
    }
}

void GapFinder::look_at_derived(const Seeker& seeker) {
    m_derived.visit_near(m_place, [&](Point2 place, std::uint32_t index) {
        if (is_apart(NodeId(index), seeker)) {
            take({base::distance(m_place, place), NodeId(index), {}, 0.0, place});
        }
    });
}

void GapFinder::look_at_middles(std::size_t number) {
    m_middles.clear();
    for (const NearRun& run : m_near.of(number)) {
        if (m_work.cable_of(run.part) != m_cable) {
            find_middle_points(m_work, m_pieces, run, m_place, m_middles);
        }
    }
    for (const MiddlePoint& middle : m_middles) {
        take({middle.distance, {}, middle.piece.part, middle.measure, middle.point});
    }
}

std::optional<Gap> GapFinder::find(std::size_t number) {
    const Seeker& seeker = m_near.seekers[number];
    m_best = {};
    m_place = m_work.place(seeker.node);
    m_joined = {};
    m_cable = {};
    if (seeker.end.is_valid()) {
        const PieceSpan own = m_pieces.at_end(seeker.end);
        m_joined = own.from_node == seeker.node ? own.to_node : own.from_node;
        m_cable = m_work.cable_of(seeker.end);
    }
    look_at_assets(seeker);
    look_at_derived(seeker);
    look_at_middles(number);
    if (m_best.distance > m_work.reach + kSlack) {
        return std::nullopt;
    }
    const CableId to = m_best.part.is_valid() ? m_work.cable_of(m_best.part) : CableId();
    return Gap{seeker.node,    m_best.node, to,           m_best.part,
               m_best.measure, m_place,     m_best.point, m_best.distance};
}

/// A pair of nodes that miss each other is listed once.
class GapList {
  public:
    explicit GapList(Snapped& out) : m_out(out) {}
    void add(const Gap& gap) {
        if (gap.to.is_valid() && !m_pairs.insert(std::minmax(gap.from, gap.to)).second) {
            return;
        }
        m_out.gaps.push_back(gap);
    }

  private:
    Snapped& m_out;
    std::set<std::pair<NodeId, NodeId>> m_pairs;
};

bool is_tap(const Work& work, NodeId node) {
    const std::vector<MainTap>& taps = work.out.main_taps;
    const auto at =
        std::lower_bound(taps.begin(), taps.end(), node,
                         [](const MainTap& tap, NodeId wanted) { return tap.node < wanted; });
    return at != taps.end() && at->node == node;
}

void list_loose_ends(Work& work, const std::vector<EndId>& derived) {
    std::vector<std::uint8_t> ends_at(work.out.nodes.size(), 0); // 0, 1 or 2 for more
    for (const EndId id : derived) {
        std::uint8_t& count = ends_at[work.end(id).node.index()];
        count = count == 0 ? 1 : 2;
    }
    for (const EndId id : derived) {
        const End& end = work.end(id);
        const bool may_hang =
            end.outcome == EndOutcome::derived || end.outcome == EndOutcome::ambiguous;
        if (may_hang && ends_at[end.node.index()] == 1 && !is_tap(work, end.node)) {
            work.out.loose_ends.push_back(
                {work.cable_of(id), end.node, end.outcome == EndOutcome::ambiguous});
        }
    }
}

} // namespace

void find_gaps(Work& work, const std::vector<EndId>& derived, const RunsInReach& near,
               base::FindingSink& findings) {
    list_loose_ends(work, derived);
    GapFinder finder(work, near, derived);
    GapList list(work.out);
    NearMissReport report(work);
    for (std::size_t i = 0; i < near.seekers.size(); ++i) {
        const Seeker& seeker = near.seekers[i];
        const bool is_end = seeker.end.is_valid();
        if (is_end &&
            (work.end(seeker.end).outcome != EndOutcome::derived || is_tap(work, seeker.node))) {
            continue;
        }
        const std::optional<Gap> gap = finder.find(i);
        if (gap.has_value()) {
            list.add(*gap);
        }
        if (is_end && gap.has_value()) {
            report.add(work.cable_of(seeker.end), *gap, findings);
        }
        if (is_end && !gap.has_value()) {
            work.out.ends_at_nothing.push_back({work.cable_of(seeker.end), seeker.node});
        }
    }
    report.finish(findings);
}

} // namespace loopwalk::network::snapping
