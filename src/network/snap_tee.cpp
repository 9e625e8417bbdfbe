// Rule 4: an end that is left tees into the middle of a cable. Ends are tried again until none can
// be joined any more, so that another run finds nothing left to join.
#include "point_grid.hpp"
#include "snap_pieces.hpp"

namespace loopwalk::network::snapping {

namespace {

class TeeMaker {
  public:
    TeeMaker(Work& work, const std::vector<EndId>& derived, const RunsInReach& near);
    void run();

  private:
    enum class Outcome : std::uint8_t { joined, refused, nothing_there };
    /// A seeker still to be tried, and why it was not joined.
    struct Waiting {
        std::size_t seeker = 0;
        std::optional<Ambiguity> refused;
    };

    [[nodiscard]] Outcome try_to_join(Waiting& waiting);
    void find_hosts(std::size_t seeker, EndId end);
    [[nodiscard]] std::optional<AmbiguityKind> doubt_about(EndId end, const MiddlePoint& host);
    [[nodiscard]] bool lies_near_node(Point2 place, NodeId own);
    [[nodiscard]] bool exposes_asset(EndId end, Point2 place);
    void join(EndId id, const MiddlePoint& host);
    void finish(const std::vector<Waiting>& waiting);

    Work& m_work;
    const RunsInReach& m_near;
    PointGrid m_nodes; // derived ones; an entry whose node has moved no longer counts
    Pieces m_pieces;
    PassingFinder m_finder;
    MeasuredLine m_line;
    std::vector<MiddlePoint> m_hosts; // of one end, the nearest first
    std::vector<std::uint32_t> m_found;
};

TeeMaker::TeeMaker(Work& work, const std::vector<EndId>& derived, const RunsInReach& near)
    : m_work(work), m_near(near), m_nodes(work.snap + kSlack, derived.size()), m_pieces(work),
      m_finder(work) {
    for (const EndId id : derived) {
        if (const End& end = work.end(id); end.outcome != EndOutcome::idle) {
            m_nodes.insert(work.place(end.node), static_cast<std::uint32_t>(end.node.index()));
        }
    }
}

void TeeMaker::find_hosts(std::size_t seeker, EndId end) {
    const Point2 place = m_work.drawn_place(end);
    m_hosts.clear();
    for (const NearRun& run : m_near.of(seeker)) {
        find_middle_points(m_work, m_pieces, run, place, m_hosts);
    }
    std::erase_if(m_hosts, [&](const MiddlePoint& host) {
        return host.piece.holds(end) || !m_work.within_snap(host.distance);
    });
    std::stable_sort(
        m_hosts.begin(), m_hosts.end(),
        [](const MiddlePoint& a, const MiddlePoint& b) { return a.distance < b.distance; });
}

bool TeeMaker::lies_near_node(Point2 place, NodeId own) {
    m_work.assets->query(box_around(place, m_work.snap + kSlack), m_found);
    bool is_near = false;
    for (const std::uint32_t asset : m_found) {
        is_near = is_near || m_work.within_snap(base::distance(place, m_work.place(NodeId(asset))));
    }
    m_nodes.visit_near(place, [&](Point2 other, std::uint32_t node) {
        const bool is_there = m_work.place(NodeId(node)) == other && NodeId(node) != own;
        is_near = is_near || (is_there && m_work.within_snap(base::distance(place, other)));
    });
    return is_near;
}

/// Whether rule 3 could cut the end's own piece where it could not before, were the end led to
/// `place`: what was the outermost bit of the piece would then be so no longer.
bool TeeMaker::exposes_asset(EndId end, Point2 place) {
    const PieceSpan span = m_pieces.at_end(end);
    m_line.set(m_work.line(span.part));
    Piece piece{span.part,
                span.from_node,
                span.to_node,
                {span.from, m_work.place(span.from_node)},
                {span.to, m_work.place(span.to_node)}};
    const std::vector<Passing> before = m_finder.find(m_line, piece);
    (end == Work::first_end(span.part) ? piece.from : piece.to).place = place;
    const std::vector<Passing>& after = m_finder.find(m_line, piece);
    return std::any_of(after.begin(), after.end(), [&](const Passing& passing) {
        return passing.can_cut &&
               std::none_of(before.begin(), before.end(), [&](const Passing& old) {
                   return old.can_cut && old.asset == passing.asset &&
                          base::distance(old.point, passing.point) <= kTie;
               });
    });
}

std::optional<AmbiguityKind> TeeMaker::doubt_about(EndId end, const MiddlePoint& host) {
    if (host.is_tie || (m_hosts.size() > 1 && m_hosts[1].distance <= host.distance + kTie)) {
        return AmbiguityKind::tee_equal;
    }
    const CableId cable = m_work.cable_of(host.piece.part);
    if (contradict(m_work.circuit(cable), m_work.circuit(m_work.cable_of(end)))) {
        return AmbiguityKind::tee_circuit;
    }
    if (lies_near_node(host.point, m_work.end(end).node)) {
        return AmbiguityKind::tee_near_node;
    }
    if (exposes_asset(end, host.point)) {
        return AmbiguityKind::tee_near_asset;
    }
    return std::nullopt;
}

void TeeMaker::join(EndId id, const MiddlePoint& host) {
    End& end = m_work.end(id);
    end.outcome = EndOutcome::teed;
    m_work.out.nodes[end.node.index()].place = host.point;
    m_nodes.insert(host.point, static_cast<std::uint32_t>(end.node.index()));
    m_pieces.add({host.piece.part, host.measure, end.node, host.point, 0.0, MoveKind::tee_assumed});
}

TeeMaker::Outcome TeeMaker::try_to_join(Waiting& waiting) {
    const EndId end = m_near.seekers[waiting.seeker].end;
    waiting.refused.reset();
    find_hosts(waiting.seeker, end);
    if (m_hosts.empty()) {
        return Outcome::nothing_there;
    }
    const MiddlePoint& host = m_hosts.front();
    if (const std::optional<AmbiguityKind> kind = doubt_about(end, host)) {
        waiting.refused = Ambiguity{m_work.cable_of(end), *kind, m_work.drawn_place(end),
                                    host.distance,        {},    m_work.cable_of(host.piece.part)};
        return Outcome::refused;
    }
    join(end, host);
    return Outcome::joined;
}

void TeeMaker::finish(const std::vector<Waiting>& waiting) {
    for (const Waiting& w : waiting) {
        if (w.refused.has_value()) {
            m_work.end(m_near.seekers[w.seeker].end).outcome = EndOutcome::ambiguous;
            m_work.ambiguities.push_back(*w.refused);
        }
    }
    const auto held = static_cast<std::ptrdiff_t>(m_work.cuts.size());
    m_work.cuts.insert(m_work.cuts.end(), m_pieces.added().begin(), m_pieces.added().end());
    std::inplace_merge(m_work.cuts.begin(), m_work.cuts.begin() + held, m_work.cuts.end(),
                       comes_before);
}

void TeeMaker::run() {
    std::vector<Waiting> waiting;
    for (std::size_t i = 0; i < m_near.seekers.size(); ++i) {
        if (m_near.seekers[i].end.is_valid()) {
            waiting.push_back({i, {}});
        }
    }
    for (bool is_changed = true; is_changed;) {
        std::vector<Waiting> still;
        for (Waiting& w : waiting) {
            if (try_to_join(w) != Outcome::joined) {
                still.push_back(w);
            }
        }
        is_changed = still.size() < waiting.size();
        waiting = std::move(still);
    }
    finish(waiting);
}

} // namespace

void tee_ends(Work& work, const std::vector<EndId>& derived, const RunsInReach& near) {
    TeeMaker(work, derived, near).run();
}

} // namespace loopwalk::network::snapping
