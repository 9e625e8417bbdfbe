// Volt drop where the way has closed loops or several phases: all voltages are found together, and
// the page gives what lets a reader check them place by place.
#include "loopwalk/base/disjoint_sets.hpp"
#include "loopwalk/solution/phase_volts.hpp"

#include "parts.hpp"
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace loopwalk::report {
namespace {

using base::ColumnId;
using base::SectionId;
using base::VertexId;
using impedance::Complex;
using network::NodeKind;
using solution::DropNetwork;

constexpr std::uint32_t kPhases = 3;

enum class Bound : bool { low, high };

/// 0 to 2; none if the record does not tell.
std::optional<std::uint32_t> number_of(model::Phase phase) {
    return phase == model::Phase::unknown
               ? std::nullopt
               : std::optional(static_cast<std::uint32_t>(phase) -
                               static_cast<std::uint32_t>(model::Phase::l1));
}

/// A load and where it is taken.
struct Taken {
    ColumnId column;
    std::uint32_t place = 0;
    std::optional<std::uint32_t> phase;
    figures::ColumnLoad load;
};

/// The whole way. What links join without impedance is one place.
class WayNetwork {
  public:
    struct Section {
        SectionId id;
        std::uint32_t a = 0, b = 0; ///< places
    };
    struct Solved {
        std::vector<solution::PhaseLoad> loads; ///< in the order of taken()
        std::vector<DropNetwork::Branch> line, neutral;
        solution::PhaseSolution solution;
    };

    WayNetwork(const Context& c, const trace::Component& component, bool is_three_phase);

    /// With all that may be on `phase` there, and the least on the others.
    [[nodiscard]] std::optional<Solved> solve(Bound bound, std::uint32_t phase, double u0) const;
    [[nodiscard]] const std::vector<Section>& sections() const noexcept { return m_sections; }
    [[nodiscard]] const std::vector<Taken>& taken() const noexcept { return m_taken; }
    [[nodiscard]] std::uint32_t place_of(VertexId v) const { return m_place.at(v); }
    [[nodiscard]] const std::vector<std::string>& names() const noexcept { return m_names; }
    /// Phases that loads are on, with `phase` itself.
    [[nodiscard]] std::set<std::uint32_t> phases_with(std::uint32_t phase) const;
    /// Phases on which the column has, or may have, a load; all if it has none.
    [[nodiscard]] std::set<std::uint32_t> phases_of(ColumnId column) const;

  private:
    void join_places(const trace::Component& component);
    void add_loads(VertexId v);
    [[nodiscard]] DropNetwork::Branch branch(const Section& section, Bound bound,
                                             Complex impedance::Conductors::*conductor) const;

    const Context& m_c;
    bool m_is_three_phase;
    std::map<VertexId, std::uint32_t> m_place;
    std::vector<std::string> m_names; ///< of places
    std::vector<std::uint32_t> m_held;
    std::vector<Section> m_sections;
    std::vector<Taken> m_taken;
};

void WayNetwork::join_places(const trace::Component& component) {
    const auto vertices = m_c.results.trace.vertices(component);
    for (const VertexId v : vertices) {
        m_place.emplace(v, static_cast<std::uint32_t>(m_place.size()));
    }
    base::DisjointSets joined(m_place.size());
    for (const network::Link& link : m_c.net().links) {
        if (m_place.contains(link.a) && m_place.contains(link.b)) {
            joined.join(m_place.at(link.b), m_place.at(link.a));
        }
    }
    const std::vector<std::uint32_t> group = joined.numbered().set_of; // from 0, as they come
    for (const VertexId v : vertices) {
        std::uint32_t& place = m_place.at(v);
        place = group[place];
        if (place == m_names.size()) {
            m_names.push_back(m_c.vertex_name(v));
        }
    }
}

WayNetwork::WayNetwork(const Context& c, const trace::Component& component, bool is_three_phase)
    : m_c(c), m_is_three_phase(is_three_phase) {
    join_places(component);
    for (const base::InfeedId infeed : c.results.trace.infeeds_of(component)) {
        m_held.push_back(m_place.at(c.net().infeeds[infeed.index()].vertex));
    }
    for (std::size_t s = 0; s < c.net().section_from.size(); ++s) {
        const VertexId from = c.net().section_from[s];
        if (from.is_valid() && m_place.contains(from)) {
            m_sections.push_back(
                {SectionId(s), m_place.at(from), m_place.at(c.net().section_to[s])});
        }
    }
    for (const VertexId v : c.results.trace.vertices(component)) {
        add_loads(v);
    }
}

void WayNetwork::add_loads(VertexId v) {
    const network::Node& node = m_c.net().snapped.nodes[m_c.net().node_of(v).index()];
    if (node.kind != NodeKind::column || m_c.results.figures.columns[node.asset].vertex != v) {
        return;
    }
    const ColumnId column(node.asset);
    for (const auto& one : m_c.judge.loads().by_phase(column)) {
        m_taken.push_back({column, m_place.at(v),
                           m_is_three_phase ? number_of(one.phase) : std::optional(0U), one.load});
    }
}

std::set<std::uint32_t> WayNetwork::phases_with(std::uint32_t phase) const {
    std::set<std::uint32_t> phases{phase};
    for (const Taken& taken : m_taken) {
        phases.insert(taken.phase.value_or(phase));
    }
    return phases;
}

std::set<std::uint32_t> WayNetwork::phases_of(ColumnId column) const {
    std::set<std::uint32_t> phases;
    bool has_load = false;
    bool may_be_any = false;
    for (const Taken& taken : m_taken) {
        if (taken.column == column) {
            has_load = true;
            may_be_any = may_be_any || !taken.phase.has_value();
            phases.insert(taken.phase.value_or(0U));
        }
    }
    if (!m_is_three_phase) {
        return {0U};
    }
    return has_load && !may_be_any ? phases : std::set<std::uint32_t>{0U, 1U, 2U};
}

DropNetwork::Branch WayNetwork::branch(const Section& section, Bound bound,
                                       Complex impedance::Conductors::*conductor) const {
    const auto length = m_c.ohms.length(section.id);
    const impedance::Impedances& km = m_c.ohms.per_km(section.id).z;
    const impedance::Conductors& z = bound == Bound::high ? km.hot_high : km.hot_low;
    const double metres = (bound == Bound::high ? length.high : length.low).value();
    return {section.a, section.b, z.*conductor * (metres / 1000.0)};
}

std::optional<WayNetwork::Solved> WayNetwork::solve(Bound bound, std::uint32_t phase,
                                                    double u0) const {
    Solved solved;
    for (const Section& section : m_sections) {
        solved.line.push_back(branch(section, bound, &impedance::Conductors::line));
        solved.neutral.push_back(branch(section, bound, &impedance::Conductors::neutral));
    }
    for (const Taken& taken : m_taken) {
        const bool its = taken.phase.value_or(phase) == phase;
        const auto& power = taken.load;
        const bool is_high = bound == Bound::high && its;
        const Complex va = is_high ? Complex(power.real.high.value(), power.reactive.high.value())
                                   : Complex(power.real.low.value(), power.reactive.low.value());
        solved.loads.push_back({taken.place, taken.phase.value_or(phase), va});
    }
    const auto count = static_cast<std::uint32_t>(m_names.size());
    auto solution =
        solution::solve_phases(DropNetwork(count, solved.line, m_held),
                               DropNetwork(count, solved.neutral, m_held), solved.loads, u0);
    if (!solution.has_value()) {
        return std::nullopt;
    }
    solved.solution = std::move(*solution);
    return solved;
}

class NetworkDropWriter {
  public:
    NetworkDropWriter(Context& c, ColumnId column, const Trail& trail)
        : m_c(c), m_column(column), m_is_three_phase(c.is_three_phase(trail.infeed)),
          m_way(c, c.component_of(trail.end), m_is_three_phase), m_place(m_way.place_of(trail.end)),
          m_u0(c.source_of(trail.infeed)->u0.value()) {}

    void run();

  private:
    struct Drop {
        std::uint32_t phase = 0;
        WayNetwork::Solved solved;
    };
    [[nodiscard]] std::optional<Drop> worst(Bound bound) const;
    void write_bound(Bound bound, double figure);
    void write_loads(const Drop& drop);
    void write_places(const Drop& drop);
    void write_sections(const Drop& drop);
    double write_result(Bound bound, const Drop& drop);
    [[nodiscard]] std::string line_name(std::uint32_t phase) const {
        return m_is_three_phase ? "L" + std::to_string(phase + 1) : "line";
    }
    [[nodiscard]] Complex emf(std::uint32_t phase) const {
        return std::polar(m_u0, -2.0 * M_PI * phase / kPhases);
    }
    [[nodiscard]] Complex line_at(const Drop& drop, std::uint32_t phase,
                                  std::uint32_t place) const {
        return emf(phase) - drop.solved.solution.line.at(phase)[place];
    }

    Context& m_c;
    ColumnId m_column;
    bool m_is_three_phase;
    WayNetwork m_way;
    std::uint32_t m_place;
    double m_u0;
};

/// The phase of the column on which its volt drop is largest.
std::optional<NetworkDropWriter::Drop> NetworkDropWriter::worst(Bound bound) const {
    std::optional<Drop> found;
    for (const std::uint32_t phase : m_way.phases_of(m_column)) {
        auto solved = m_way.solve(bound, phase, m_u0);
        if (!solved.has_value()) {
            return std::nullopt;
        }
        if (!found.has_value() || solved->solution.volts(m_place, phase) <
                                      found->solved.solution.volts(m_place, found->phase)) {
            found = Drop{phase, std::move(*solved)};
        }
    }
    return found;
}

void NetworkDropWriter::write_loads(const Drop& drop) {
    Table table{{{"column"},
                 {"place"},
                 {"phase"},
                 {"W", Align::number},
                 {"var", Align::number},
                 {"I re", Align::number},
                 {"I im", Align::number}},
                {}};
    for (std::size_t l = 0; l < m_way.taken().size(); ++l) {
        const solution::PhaseLoad& load = drop.solved.loads[l];
        const Complex volts =
            line_at(drop, load.phase, load.node) - drop.solved.solution.neutral[load.node];
        const Complex amperes = std::conj(load.va / volts);
        table.rows.push_back({m_c.text(m_c.layers().columns[m_way.taken()[l].column.index()].id),
                              m_way.names()[load.node], line_name(load.phase),
                              written(load.va.real()), written(load.va.imag()),
                              written(amperes.real()), written(amperes.imag())});
    }
    m_c.page.add(std::move(table));
}

void NetworkDropWriter::write_places(const Drop& drop) {
    Table table{{{"place"}}, {}};
    const std::set<std::uint32_t> phases = m_way.phases_with(drop.phase);
    for (const std::uint32_t phase : phases) {
        table.columns.push_back({line_name(phase) + " re", Align::number});
        table.columns.push_back({line_name(phase) + " im", Align::number});
    }
    table.columns.push_back({"neutral re", Align::number});
    table.columns.push_back({"neutral im", Align::number});
    for (std::uint32_t place = 0; place < m_way.names().size(); ++place) {
        std::vector<std::string> row{m_way.names()[place]};
        for (const std::uint32_t phase : phases) {
            const Complex volts = line_at(drop, phase, place);
            row.push_back(written_fine(volts.real()));
            row.push_back(written_fine(volts.imag()));
        }
        const Complex neutral = drop.solved.solution.neutral[place];
        row.push_back(written_fine(neutral.real()));
        row.push_back(written_fine(neutral.imag()));
        table.rows.push_back(std::move(row));
    }
    m_c.page.add(std::move(table));
}

void NetworkDropWriter::write_sections(const Drop& drop) {
    Table table{{{"section"},
                 {"from"},
                 {"to"},
                 {"conductor"},
                 {"R", Align::number},
                 {"X", Align::number},
                 {"I re", Align::number},
                 {"I im", Align::number}},
                {}};
    const auto add = [&](std::size_t s, const std::string& conductor,
                         const DropNetwork::Branch& branch, Complex amperes) {
        const WayNetwork::Section& section = m_way.sections()[s];
        table.rows.push_back({m_c.section_name(section.id), m_way.names()[section.a],
                              m_way.names()[section.b], conductor, written(branch.ohms.real()),
                              written(branch.ohms.imag()), written(amperes.real()),
                              written(amperes.imag())});
    };
    const solution::PhaseSolution& solution = drop.solved.solution;
    for (std::size_t s = 0; s < m_way.sections().size(); ++s) {
        const auto flow = [&](const DropNetwork::Branch& branch, const auto& drops) {
            return (drops[branch.b] - drops[branch.a]) / branch.ohms;
        };
        for (const std::uint32_t phase : m_way.phases_with(drop.phase)) {
            const DropNetwork::Branch& branch = drop.solved.line[s];
            add(s, line_name(phase), branch, flow(branch, solution.line.at(phase)));
        }
        const DropNetwork::Branch& branch = drop.solved.neutral[s];
        add(s, "neutral", branch, -flow(branch, solution.neutral));
    }
    m_c.page.add(std::move(table));
}

double NetworkDropWriter::write_result(Bound bound, const Drop& drop) {
    WorkingLines lines;
    const Complex line = line_at(drop, drop.phase, m_place);
    const Complex neutral = drop.solved.solution.neutral[m_place];
    // The voltage of the column: its line less the neutral there.
    const Term size = magnitude(Term::fine(line.real()) - Term::fine(neutral.real()),
                                Term::fine(line.imag()) - Term::fine(neutral.imag()));
    const Term percent =
        lines.line(std::string("volt drop (") + (bound == Bound::high ? "high)" : "low)"),
                   "100 * (U0 - |" + line_name(drop.phase) + " - neutral|) / U0",
                   Term(100.0) * (Term(m_u0) - size) / Term(m_u0), "%");
    lines.put_on(m_c.page);
    return percent.value();
}

void NetworkDropWriter::write_bound(Bound bound, double figure) {
    const auto drop = worst(bound);
    if (!drop.has_value()) {
        m_c.page.paragraph("The loads cannot be carried.");
        return;
    }
    const std::string line = line_name(drop->phase);
    m_c.page.paragraph(
        std::string(bound == Bound::high ? "High bound. " : "Low bound. ") +
        "The way has closed loops or several phases, so all voltages are found together. Here they "
        "are with the currents that belong to them; each can be checked. A load draws I = (W - j "
        "var) / (V re - j V im), V its line less the neutral at its place. At every place but the "
        "supply's the currents of a line's sections, towards it, add up to what its loads draw "
        "there; those of the neutral to what all loads return, the other way. " +
        (m_way.phases_with(drop->phase).size() > 1
             ? "What is on another phase than " + line +
                   " relieves the neutral and counts with its "
                   "least."
             : ""));
    write_loads(*drop);
    m_c.page.paragraph("Over a section the potential falls by I * (R + jX), hot, from the one "
                       "place to the other; a current that flows back is negative.");
    write_sections(*drop);
    m_c.page.paragraph("Potentials against the supply's neutral terminal, V:");
    write_places(*drop);
    must_agree(100.0 - write_result(bound, *drop), 100.0 - figure,
               bound == Bound::high ? "the volt drop (high)" : "the volt drop (low)");
}

void NetworkDropWriter::run() {
    const figures::ColumnFigures& figures = m_c.results.figures.columns[m_column.index()];
    const double high = (*figures.vdrop_high_pct).value();
    write_bound(Bound::high, high);
    if (!figures.vdrop_low_pct.has_value()) {
        m_c.page.paragraph("A low bound is not known: loads or phases are missing.");
    } else if ((*figures.vdrop_low_pct).value() == high) {
        m_c.page.paragraph("The records are complete here: the low bound is the same.");
    } else {
        write_bound(Bound::low, (*figures.vdrop_low_pct).value());
    }
}

} // namespace

void write_network_volt_drop(Context& c, ColumnId column, const Trail& trail) {
    NetworkDropWriter(c, column, trail).run();
}

} // namespace loopwalk::report
