// Volt drop and design current of circuits with loops or with three phases.
#include "figure_maker.hpp"
#include <algorithm>
#include <cmath>

namespace loopwalk::figures {

using impedance::Complex;
using impedance::Presence;
using solution::PhaseLoad;
using solution::solve_phases;

namespace {

using base::Ampere;
using base::Maybe;
using base::Number;
using model::Phase;
using network::NodeKind;

constexpr std::uint32_t kPhases = 3;
constexpr std::uint32_t kAnyPhase = kPhases;

std::uint32_t number_of(Phase phase) {
    switch (phase) {
    case Phase::l1:
        return 0;
    case Phase::l2:
        return 1;
    case Phase::l3:
        return 2;
    case Phase::unknown:
        break;
    }
    return kAnyPhase;
}

void raise(Maybe<Number>& value, double to) {
    if (!value.has_value() || Number(to) > *value) {
        value = Number(to);
    }
}

void raise(Maybe<Ampere>& value, double to) {
    if (!value.has_value() || Ampere(to) > *value) {
        value = Ampere(to);
    }
}

} // namespace

/// The circuit of a component with the loads on it; nodes are positions in the component.
struct FigureMaker::LoadedCircuit {
    struct Load {
        std::uint32_t node = 0;
        std::uint32_t phase = kAnyPhase;
        Complex low, high; ///< VA
    };
    std::vector<Load> loads;
    std::vector<DropNetwork::Branch> line_low, line_high, neutral_low, neutral_high;
    std::vector<base::SectionId> section; ///< of each branch; invalid: a link
    std::vector<std::uint32_t> held;
    bool is_exact = true; ///< loads and impedances have one value
    bool has_unknown_phase = false;
};

/// False where a neutral is not certainly there, or a loop's records leave a range: the drop in a
/// mesh does not rise with every impedance, so its corners bound nothing.
bool FigureMaker::add_branch(LoadedCircuit& circuit, base::SectionId id, VertexId a,
                             VertexId b) const {
    const PieceOhms ohms = m_paths.ohms_of(id);
    const bool looped = m_trace.looped[id.index()] != 0;
    if (ohms.neutral != Presence::yes || (looped && !ohms.is_complete)) {
        return false;
    }
    const std::uint32_t from = m_position[a.index()];
    const std::uint32_t to = m_position[b.index()];
    circuit.line_low.push_back({from, to, ohms.z.hot_low.line});
    circuit.line_high.push_back({from, to, ohms.z.hot_high.line});
    circuit.neutral_low.push_back({from, to, ohms.z.hot_low.neutral});
    circuit.neutral_high.push_back({from, to, ohms.z.hot_high.neutral});
    circuit.section.push_back(id);
    circuit.is_exact = circuit.is_exact && ohms.z.hot_low.line == ohms.z.hot_high.line &&
                       ohms.z.hot_low.neutral == ohms.z.hot_high.neutral;
    return true;
}

void FigureMaker::add_link(LoadedCircuit& circuit, VertexId a, VertexId b) const {
    const DropNetwork::Branch joined{m_position[a.index()], m_position[b.index()], {}};
    for (auto* branches :
         {&circuit.line_low, &circuit.line_high, &circuit.neutral_low, &circuit.neutral_high}) {
        branches->push_back(joined);
    }
    circuit.section.emplace_back();
}

bool FigureMaker::add_branches(LoadedCircuit& circuit, const Component& component) const {
    for (const VertexId v : m_trace.vertices(component)) {
        const VertexId parent = m_trace.parent[v.index()];
        const base::EdgeId edge = m_trace.parent_edge[v.index()];
        if (!parent.is_valid() || m_trace.looped[edge.index()] != 0) {
            continue;
        }
        if (!m_net.is_section(edge)) {
            add_link(circuit, parent, v);
        } else if (!add_branch(circuit, base::SectionId(edge.index()), parent, v)) {
            return false;
        }
    }
    for (const SolvedBlock& solved : m_blocks) {
        const Block& block = solved.block;
        for (const Block::Link& link : block.links) {
            add_link(circuit, block.vertices[link.a], block.vertices[link.b]);
        }
        for (const Block::Section& section : block.sections) {
            if (!add_branch(circuit, section.id, block.vertices[section.a],
                            block.vertices[section.b])) {
                return false;
            }
        }
    }
    return true;
}

void FigureMaker::add_loads(LoadedCircuit& circuit, const Component& component,
                            std::uint32_t only_phase) const {
    for (const InfeedId infeed : m_trace.infeeds_of(component)) {
        circuit.held.push_back(m_position[m_net.infeeds[infeed.index()].vertex.index()]);
    }
    for (const VertexId v : m_trace.vertices(component)) {
        const network::Node& n = m_net.snapped.nodes[m_net.node_of(v).index()];
        if (n.kind != NodeKind::column || m_figures.columns[n.asset].vertex != v) {
            continue;
        }
        for (const LoadBook::OnPhase& one : m_loads.by_phase(ColumnId(n.asset))) {
            const Complex low(one.load.real.low.value(), one.load.reactive.low.value());
            const Complex high(one.load.real.high.value(), one.load.reactive.high.value());
            const std::uint32_t phase = only_phase != kAnyPhase ? only_phase : number_of(one.phase);
            circuit.loads.push_back({m_position[v.index()], phase, low, high});
            circuit.is_exact = circuit.is_exact && low == high;
            circuit.has_unknown_phase = circuit.has_unknown_phase || phase == kAnyPhase;
        }
    }
}

/// Several ways of one supply must carry the same phases for a voltage to mean anything.
bool FigureMaker::has_same_phases(const Component& component) const {
    const auto infeeds = m_trace.infeeds_of(component);
    return std::ranges::all_of(infeeds, [&](InfeedId other) {
        return is_three_phase(other) == is_three_phase(infeeds[0]) &&
               phase_of(other) == phase_of(infeeds[0]);
    });
}

void FigureMaker::solve_phase_drops(const Component& component) {
    LoadedCircuit circuit;
    if (!has_same_phases(component) || !add_branches(circuit, component)) {
        return;
    }
    const InfeedId infeed = m_trace.infeeds_of(component)[0];
    const bool three_phase = is_three_phase(infeed);
    add_loads(circuit, component, three_phase ? kAnyPhase : 0);
    const double u0 = source_at(infeed)->u0.value();
    const auto count = static_cast<std::uint32_t>(m_at.size());
    const DropNetwork line(count, circuit.line_high, circuit.held);
    const DropNetwork neutral(count, circuit.neutral_high, circuit.held);
    if (three_phase) {
        solve_three_phases(component, circuit, line, neutral, u0);
    } else {
        solve_one_phase(component, circuit, line, neutral, u0);
    }
}

/// Each phase in turn with all that may be on it, and the least on the others.
void FigureMaker::solve_three_phases(const Component& component, const LoadedCircuit& circuit,
                                     const DropNetwork& line, const DropNetwork& neutral,
                                     double u0) {
    const bool is_exact = circuit.is_exact && !circuit.has_unknown_phase;
    for (std::uint32_t phase = 0; phase < kPhases; ++phase) {
        std::vector<PhaseLoad> loads;
        for (const LoadedCircuit::Load& load : circuit.loads) {
            // What is on another phase relieves the neutral: there the smallest load counts.
            const bool its = load.phase == phase || load.phase == kAnyPhase;
            loads.push_back({load.node, its ? phase : load.phase, its ? load.high : load.low});
        }
        const auto solved = solve_phases(line, neutral, loads, u0);
        if (!solved.has_value()) {
            mark_collapse(component);
            return;
        }
        store_drops(component, *solved, phase, is_exact);
        store_currents(component, circuit, line, *solved, phase);
        for (std::size_t l = 0; l < loads.size(); ++l) {
            loads[l].va = circuit.loads[l].high;
        }
        const auto heaviest = circuit.is_exact ? solved : solve_phases(line, neutral, loads, u0);
        store_neutral_currents(circuit, line, neutral, *solved, heaviest.value_or(*solved));
    }
    if (is_exact) {
        copy_design(component);
        return;
    }
    Complex least; // the most loaded phase carries no less than a third, at no more than u0
    for (const LoadedCircuit::Load& load : circuit.loads) {
        least += load.low;
    }
    const auto infeeds = m_trace.infeeds_of(component);
    for (const InfeedId r : infeeds) {
        m_figures.infeeds[r.index()].design_low =
            Ampere(infeeds.size() > 1 ? 0.0 : std::abs(least) / (kPhases * u0));
    }
}

void FigureMaker::solve_one_phase(const Component& component, const LoadedCircuit& circuit,
                                  const DropNetwork& line, const DropNetwork& neutral, double u0) {
    std::vector<PhaseLoad> low_loads;
    std::vector<PhaseLoad> high_loads;
    for (const LoadedCircuit::Load& load : circuit.loads) {
        low_loads.push_back({load.node, 0, load.low});
        high_loads.push_back({load.node, 0, load.high});
    }
    const DropNetwork line_low(line.size(), circuit.line_low, circuit.held);
    const DropNetwork neutral_low(line.size(), circuit.neutral_low, circuit.held);
    const auto low = solve_phases(line_low, neutral_low, low_loads, u0);
    const auto high = solve_phases(line, neutral, high_loads, u0);
    if (!low.has_value() || !high.has_value()) {
        mark_collapse(component);
        return;
    }
    store_currents(component, circuit, line_low, *low, 0);
    copy_design(component);
    store_drops(component, *low, 0, true);
    store_drops(component, *high, 0, false);
    store_currents(component, circuit, line, *high, 0);
}

void FigureMaker::mark_collapse(const Component& component) {
    for (const InfeedId infeed : m_trace.infeeds_of(component)) {
        m_figures.infeeds[infeed.index()].no_solution = true;
    }
}

/// Volt drop of every column that has, or may have, this phase.
void FigureMaker::store_drops(const Component& component, const PhaseSolution& solved,
                              std::uint32_t phase, bool is_low) {
    const bool three_phase = is_three_phase(m_trace.infeeds_of(component)[0]);
    for (const VertexId v : m_trace.vertices(component)) {
        const network::Node& n = m_net.snapped.nodes[m_net.node_of(v).index()];
        if (n.kind != NodeKind::column || m_figures.columns[n.asset].vertex != v) {
            continue;
        }
        const auto loads = m_loads.by_phase(ColumnId(n.asset));
        const bool has_phase =
            !three_phase || loads.empty() || std::ranges::any_of(loads, [phase](const auto& one) {
                return number_of(one.phase) == phase || number_of(one.phase) == kAnyPhase;
            });
        if (!has_phase) {
            continue;
        }
        const double percent =
            100.0 * (solved.u0 - solved.volts(m_position[v.index()], phase)) / solved.u0;
        ColumnFigures& column = m_figures.columns[n.asset];
        raise(column.vdrop_high_pct, percent);
        if (is_low) {
            raise(column.vdrop_low_pct, percent);
        }
    }
}

/// Largest current of any phase in each section and out of each way.
void FigureMaker::store_currents(const Component& component, const LoadedCircuit& circuit,
                                 const DropNetwork& line, const PhaseSolution& solved,
                                 std::uint32_t phase) {
    std::vector<Complex> out(m_at.size());
    for (std::size_t b = 0; b < circuit.section.size(); ++b) {
        if (!circuit.section[b].is_valid()) {
            continue;
        }
        const Complex amperes = line.current(b, solved.line.at(phase));
        raise(m_figures.sections[circuit.section[b].index()].current, std::abs(amperes));
        out[circuit.line_high[b].a] += amperes;
        out[circuit.line_high[b].b] -= amperes;
    }
    for (const InfeedId infeed : m_trace.infeeds_of(component)) {
        const std::uint32_t at = m_position[m_net.infeeds[infeed.index()].vertex.index()];
        raise(m_figures.infeeds[infeed.index()].design_high, std::abs(out[at]));
    }
}

/// The vector sum of the phases, `unbalanced`, and their third harmonics, which add up in the
/// neutral (BS 7671 reg 523.6.3; the share is a setting).
void FigureMaker::store_neutral_currents(const LoadedCircuit& circuit, const DropNetwork& line,
                                         const DropNetwork& neutral,
                                         const PhaseSolution& unbalanced,
                                         const PhaseSolution& heaviest) {
    const double harmonic = m_rules.third_harmonic_pct / 100.0;
    for (std::size_t b = 0; b < circuit.section.size(); ++b) {
        if (!circuit.section[b].is_valid()) {
            continue;
        }
        double amperes = std::abs(neutral.current(b, unbalanced.neutral));
        for (const auto& drops : heaviest.line) {
            amperes += harmonic * std::abs(line.current(b, drops));
        }
        NeutralCurrent& largest = m_figures.neutral_currents[circuit.section[b]];
        largest.high = std::max(largest.high, Ampere(amperes));
        largest.is_exact = circuit.is_exact && !circuit.has_unknown_phase;
    }
}

/// Where every value is known the design current has one too.
void FigureMaker::copy_design(const Component& component) {
    for (const InfeedId infeed : m_trace.infeeds_of(component)) {
        InfeedFigures& figures = m_figures.infeeds[infeed.index()];
        figures.design_low = figures.design_high;
    }
}

model::Phase FigureMaker::phase_of(InfeedId id) const {
    return figures::phase_of(m_layers, m_net, id);
}

} // namespace loopwalk::figures
