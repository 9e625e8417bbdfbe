// Rule 3: cables are cut at the assets they pass. The pieces are looked at again until none is
// cut any more, so that another run finds nothing left to cut.
#include "snap_steps.hpp"
#include "snap_stretch.hpp"
#include <algorithm>
#include <cmath>

namespace loopwalk::network::snapping {

namespace {

/// Which cables end at an asset by rule 1.
class Admission {
  public:
    explicit Admission(const Work& work);
    /// Whether a cable that passes the asset may be cut there.
    [[nodiscard]] bool admits(NodeId asset, CableId cable) const;

  private:
    const Work& m_work;
    std::vector<std::uint32_t> m_first; // per asset, and the count
    std::vector<CableId> m_cables;
};

Admission::Admission(const Work& work) : m_work(work), m_first(work.asset_count + 1, 0) {
    const auto counts = [&](std::size_t i) {
        return work.ends[i].outcome == EndOutcome::at_asset &&
               work.conducts(work.cable_of(EndId(i)));
    };
    for (std::size_t i = 0; i < work.ends.size(); ++i) {
        if (counts(i)) {
            ++m_first[work.ends[i].node.index() + 1];
        }
    }
    for (std::size_t i = 1; i < m_first.size(); ++i) {
        m_first[i] += m_first[i - 1];
    }
    m_cables.resize(m_first.back());
    std::vector<std::uint32_t> next = m_first;
    for (std::size_t i = 0; i < work.ends.size(); ++i) {
        if (counts(i)) {
            m_cables[next[work.ends[i].node.index()]++] = work.cable_of(EndId(i));
        }
    }
}

bool Admission::admits(NodeId asset, CableId cable) const {
    const TextId circuit = m_work.circuit(cable);
    bool has_other = false;
    for (std::uint32_t i = m_first[asset.index()]; i < m_first[asset.index() + 1]; ++i) {
        if (circuit.is_valid() && m_work.circuit(m_cables[i]) == circuit) {
            return true;
        }
        has_other = has_other || m_cables[i] != cable;
    }
    return !has_other;
}

class Cutter {
  public:
    explicit Cutter(Work& work) : m_work(work), m_admission(work), m_finder(work) {}
    void cut_cable(CableId id);

  private:
    [[nodiscard]] bool has_hits(PartId part) const;
    void cut_part(PartId part);
    void cut_piece(const Piece& piece);
    [[nodiscard]] double measure_of(const Piece& piece, const Passing& passing) const;
    void split(const Piece& piece);
    void report_refused(CableId cable, std::size_t first_cut);
    [[nodiscard]] bool is_joined(NodeId asset, CableId id, std::size_t first_cut) const;

    Work& m_work;
    Admission m_admission;
    PassingFinder m_finder;
    MeasuredLine m_line;
    std::vector<Piece> m_todo;
    std::vector<Cut> m_cuts;          // of one piece
    std::vector<Ambiguity> m_refused; // of one cable
};

bool Cutter::has_hits(PartId part) const {
    const std::uint32_t first = m_work.first_run[part.index()];
    return m_work.first_hit[first] != m_work.first_hit[m_work.first_run[part.index() + 1]];
}

void Cutter::cut_cable(CableId id) {
    const std::size_t first_cut = m_work.cuts.size();
    const model::Cable& cable = m_work.cable(id);
    m_refused.clear();
    for (std::uint32_t i = 0; i < cable.part_count; ++i) {
        if (const PartId part(cable.first_part + i); has_hits(part)) {
            cut_part(part);
        }
    }
    report_refused(id, first_cut);
}

void Cutter::cut_part(PartId part) {
    const std::size_t first_cut = m_work.cuts.size();
    m_line.set(m_work.line(part));
    const NodeId start = m_work.end(Work::first_end(part)).node;
    const NodeId stop = m_work.end(Work::last_end(part)).node;
    m_todo.push_back(
        {part, start, stop, {0.0, m_work.place(start)}, {m_line.length(), m_work.place(stop)}});
    while (!m_todo.empty()) {
        const Piece piece = m_todo.back();
        m_todo.pop_back();
        cut_piece(piece);
    }
    std::sort(m_work.cuts.begin() + static_cast<std::ptrdiff_t>(first_cut), m_work.cuts.end(),
              comes_before);
}

void Cutter::cut_piece(const Piece& piece) {
    const CableId cable = m_work.cable_of(piece.part);
    const std::size_t refused = m_refused.size();
    m_cuts.clear();
    for (const Passing& p : m_finder.find(m_line, piece)) {
        const bool is_admitted = m_admission.admits(p.asset, cable);
        if (p.can_cut && !p.is_tie && is_admitted) {
            const double measure = measure_of(piece, p);
            m_cuts.push_back(
                {piece.part, measure, p.asset, p.point, p.distance, MoveKind::cut_at_asset});
        } else {
            const AmbiguityKind kind = p.is_tie      ? AmbiguityKind::equal_assets
                                       : is_admitted ? AmbiguityKind::beside_end
                                                     : AmbiguityKind::not_admitted;
            m_refused.push_back({cable, kind, p.point, p.distance, p.asset, {}});
        }
    }
    if (m_cuts.empty()) {
        return;
    }
    m_refused.resize(refused); // the pieces are judged anew
    split(piece);
}

/// Rounded to a nanometre: two assets straight across the cable from each other give the same
/// measure, and so come in the order of nodes.
double Cutter::measure_of(const Piece& piece, const Passing& passing) const {
    const double along = piece.from.measure + passing.arc - m_finder.line().start;
    return std::clamp(std::round(along / kSlack) * kSlack, piece.from.measure, piece.to.measure);
}

void Cutter::split(const Piece& piece) {
    std::sort(m_cuts.begin(), m_cuts.end(), comes_before);
    Piece rest = piece;
    for (const Cut& cut : m_cuts) {
        Piece done = rest;
        done.to_node = cut.node;
        done.to = {cut.measure, m_work.place(cut.node)};
        m_todo.push_back(done);
        rest.from_node = done.to_node;
        rest.from = done.to;
    }
    m_todo.push_back(rest);
    m_work.cuts.insert(m_work.cuts.end(), m_cuts.begin(), m_cuts.end());
}

bool Cutter::is_joined(NodeId asset, CableId id, std::size_t first_cut) const {
    const model::Cable& cable = m_work.cable(id);
    const std::size_t first_end = std::size_t{cable.first_part} * 2;
    for (std::size_t i = 0; i < std::size_t{cable.part_count} * 2; ++i) {
        if (m_work.ends[first_end + i].node == asset) {
            return true;
        }
    }
    return std::any_of(m_work.cuts.begin() + static_cast<std::ptrdiff_t>(first_cut),
                       m_work.cuts.end(), [&](const Cut& cut) { return cut.node == asset; });
}

void Cutter::report_refused(CableId cable, std::size_t first_cut) {
    for (const Ambiguity& refused : m_refused) {
        if (!is_joined(refused.node, cable, first_cut)) {
            m_work.ambiguities.push_back(refused);
        }
    }
}

} // namespace

void cut_at_assets(Work& work, base::Progress& progress) {
    Cutter cutter(work);
    progress.stage("cutting cables at assets", work.layers.cables.size());
    for (std::size_t i = 0; i < work.layers.cables.size(); ++i) {
        if (work.conducts(CableId(i))) {
            cutter.cut_cable(CableId(i));
        }
        progress.step(i);
    }
}

} // namespace loopwalk::network::snapping
