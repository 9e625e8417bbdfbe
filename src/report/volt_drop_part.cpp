// Loads of a way and the voltage along the path, with constant-power loads.
#include "loopwalk/base/error.hpp"
#include "loopwalk/solution/volt_drop.hpp"

#include "parts.hpp"
#include <algorithm>
#include <cmath>
#include <map>

namespace loopwalk::report {
namespace {

using base::ColumnId;
using base::VertexId;
using impedance::Complex;
using impedance::Conductors;
using impedance::Impedances;
using network::NodeKind;

enum class Bound : bool { low, high };

const char* bound_name(Bound bound) {
    return bound == Bound::high ? "high" : "low";
}

/// A load of the way: its column, and where its current leaves the path that is looked at.
struct Tap {
    ColumnId column;
    std::uint32_t position = 0;   ///< in the circuit
    std::size_t leaves_after = 0; ///< sections of the path that its current passes
    figures::ColumnLoad load;
};

/// The whole way as a circuit, and where the path runs in it.
class WayCircuit {
  public:
    WayCircuit(const Context& c, const Trail& trail);

    struct Solved {
        solution::RadialCircuit circuit;
        solution::RadialSolution solution;
    };
    [[nodiscard]] Solved solve(Bound bound, double u0) const;
    [[nodiscard]] const std::vector<Tap>& taps() const noexcept { return m_taps; }
    [[nodiscard]] std::uint32_t position(VertexId v) const { return m_position.at(v); }

  private:
    [[nodiscard]] Complex branch(VertexId v, Bound bound) const;

    const Context& m_c;
    std::vector<VertexId> m_order;
    std::map<VertexId, std::uint32_t> m_position;
    std::vector<Tap> m_taps;
};

WayCircuit::WayCircuit(const Context& c, const Trail& trail) : m_c(c) {
    const trace::Trace& trace = c.results.trace;
    const trace::Component& component = c.component_of(trail.end);
    const figures::LoadBook& loads = c.judge.loads();
    std::map<VertexId, std::size_t> on_path; // sections of the path up to a vertex
    std::size_t sections = 0;
    on_path[c.net().infeeds[trail.infeed.index()].vertex] = 0;
    for (const Step& step : trail.steps) {
        sections += c.net().is_section(step.edge) ? 1U : 0U;
        on_path[step.to] = sections;
    }
    for (const VertexId v : trace.vertices(component)) {
        m_position[v] = static_cast<std::uint32_t>(m_order.size());
        m_order.push_back(v);
        const VertexId parent = trace.parent[v.index()];
        if (!on_path.contains(v) && parent.is_valid()) {
            on_path[v] = on_path.at(parent);
        }
        const network::Node& node = c.net().snapped.nodes[c.net().node_of(v).index()];
        if (node.kind == NodeKind::column && c.results.figures.columns[node.asset].vertex == v) {
            const ColumnId column(node.asset);
            m_taps.push_back({column, m_position[v], on_path.at(v), loads.of(column)});
        }
    }
}

Complex WayCircuit::branch(VertexId v, Bound bound) const {
    const base::EdgeId edge = m_c.results.trace.parent_edge[v.index()];
    if (!m_c.net().is_section(edge)) {
        return {};
    }
    const base::SectionId id(edge.index());
    const auto length = m_c.ohms.length(id);
    const Impedances& km = m_c.ohms.per_km(id).z;
    const Conductors& z = bound == Bound::high ? km.hot_high : km.hot_low;
    const double metres = (bound == Bound::high ? length.high : length.low).value();
    return (z.line + z.neutral) * (metres / 1000.0);
}

WayCircuit::Solved WayCircuit::solve(Bound bound, double u0) const {
    Solved solved;
    for (const VertexId v : m_order) {
        const VertexId parent = m_c.results.trace.parent[v.index()];
        if (parent.is_valid()) {
            solved.circuit.add(m_position.at(parent), branch(v, bound), {});
        } else {
            solved.circuit.add(0, {}, {});
        }
    }
    for (const Tap& tap : m_taps) {
        const figures::ColumnLoad& load = tap.load;
        solved.circuit.power[tap.position] =
            bound == Bound::high ? Complex(load.real.high.value(), load.reactive.high.value())
                                 : Complex(load.real.low.value(), load.reactive.low.value());
    }
    auto solution = solution::solve_radial(solved.circuit, u0);
    LW_ASSERT(solution.has_value());
    solved.solution = std::move(*solution);
    return solved;
}

class VoltDropWriter {
  public:
    VoltDropWriter(Context& c, ColumnId column, const Trail& trail)
        : m_c(c), m_column(column), m_trail(trail), m_way(c, trail),
          m_u0(c.source_of(trail.infeed)->u0.value()) {}

    void run();

  private:
    void write_loads();
    double write_bound(Bound bound);
    void write_currents(const WayCircuit::Solved& solved);
    double write_path(Bound bound, const WayCircuit::Solved& solved);
    [[nodiscard]] std::string name(const Tap& tap) const {
        return m_c.text(m_c.layers().columns[tap.column.index()].id);
    }

    Context& m_c;
    ColumnId m_column;
    const Trail& m_trail;
    WayCircuit m_way;
    double m_u0;
};

std::string recorded(const auto& value, double low, double high) {
    return value.has_value() ? written((*value).value()) : written(low) + " to " + written(high);
}

struct LoadRecord {
    base::Maybe<base::Watt> watts;
    base::Maybe<base::Number> factor;
    base::Bounds<base::Watt> missing; ///< stands where no watts are recorded
};

void add_load(Context& c, Table& table, const std::string& column, const std::string& use,
              const LoadRecord& load) {
    const auto& pf = c.results.assumptions.power_factor;
    table.rows.push_back({column, use,
                          recorded(load.watts, load.missing.low.value(), load.missing.high.value()),
                          recorded(load.factor, pf.low.value(), pf.high.value())});
}

void VoltDropWriter::write_loads() {
    m_c.page.paragraph("Loads of the way, as recorded; a range where nothing is recorded:");
    Table table{{{"column"}, {"use"}, {"W", Align::number}, {"power factor", Align::number}}, {}};
    const auto& assumptions = m_c.results.assumptions;
    for (const Tap& tap : m_way.taps()) {
        const model::Column& column = m_c.layers().columns[tap.column.index()];
        const auto rows = m_c.judge.loads().rows(tap.column);
        for (const std::uint32_t r : rows) {
            const model::Load& row = m_c.layers().loads[r];
            add_load(m_c, table, name(tap), m_c.text(row.use),
                     {row.load,
                      row.power_factor.has_value() ? row.power_factor : column.power_factor,
                      assumptions.use_load});
        }
        if (rows.empty()) {
            add_load(m_c, table, name(tap), "-",
                     {column.load, column.power_factor, assumptions.load});
        }
    }
    m_c.page.add(std::move(table));
}

void VoltDropWriter::write_currents(const WayCircuit::Solved& solved) {
    Table table{{{"column"},
                 {"through sections", Align::number},
                 {"W", Align::number},
                 {"var", Align::number},
                 {"V re", Align::number},
                 {"V im", Align::number},
                 {"I re", Align::number},
                 {"I im", Align::number}},
                {}};
    for (const Tap& tap : m_way.taps()) {
        const Complex power = solved.circuit.power[tap.position];
        const Complex volts = solved.solution.voltage[tap.position];
        const Complex amperes = std::conj(power / volts);
        table.rows.push_back({name(tap), std::to_string(tap.leaves_after), written(power.real()),
                              written(power.imag()), written_fine(volts.real()),
                              written_fine(volts.imag()), written(amperes.real()),
                              written(amperes.imag())});
    }
    m_c.page.add(std::move(table));
}

/// Section by section: current, line and neutral in series, drop, voltage at its far end.
double VoltDropWriter::write_path(Bound bound, const WayCircuit::Solved& solved) {
    Table table{{{"no", Align::number},
                 {"I re", Align::number},
                 {"I im", Align::number},
                 {"R", Align::number},
                 {"X", Align::number},
                 {"drop re", Align::number},
                 {"drop im", Align::number},
                 {"V re", Align::number},
                 {"V im", Align::number}},
                {}};
    std::size_t number = 0;
    Complex volts(m_u0, 0.0);
    for (const Step& step : m_trail.steps) {
        if (!m_c.net().is_section(step.edge)) {
            continue;
        }
        const std::uint32_t at = m_way.position(step.to);
        const Complex amperes = solved.solution.current[at];
        const Complex ohms = solved.circuit.impedance[at];
        const Complex drop = ohms * amperes;
        volts -= drop;
        table.rows.push_back({std::to_string(++number), written(amperes.real()),
                              written(amperes.imag()), written(ohms.real()), written(ohms.imag()),
                              written(drop.real()), written(drop.imag()),
                              written_fine(volts.real()), written_fine(volts.imag())});
    }
    m_c.page.add(std::move(table));
    WorkingLines lines;
    const Term u0(m_u0);
    const Term size = magnitude(Term::fine(volts.real()), Term::fine(volts.imag()));
    const Term percent = lines.line("volt drop (" + std::string(bound_name(bound)) + ")",
                                    "100 * (U0 - |V|) / U0", Term(100.0) * (u0 - size) / u0, "%");
    lines.put_on(m_c.page);
    return percent.value();
}

double VoltDropWriter::write_bound(Bound bound) {
    const WayCircuit::Solved solved = m_way.solve(bound, m_u0);
    m_c.page.paragraph(std::string(bound == Bound::high ? "High bound. " : "Low bound. ") +
                       "Each load draws I = (W - j var) / (V re - j V im) at its own voltage; its "
                       "current flows through the first so many sections of the path. var = W * "
                       "sqrt(1 - pf^2) / pf, summed over the column's loads. The voltages fit all "
                       "currents and sections of the way at once; those beside the path are worked "
                       "on the pages of their columns.");
    write_currents(solved);
    m_c.page.paragraph(
        "Along the path from U0 at the supply's terminals: the current of a section "
        "is the sum over the loads that flow through it; R and X are line + neutral, "
        "hot; drop = I * (R + jX); V at its far end is V before it less the drop.");
    return write_path(bound, solved);
}

void VoltDropWriter::run() {
    const figures::ColumnFigures& figures = m_c.results.figures.columns[m_column.index()];
    write_loads();
    // Compared as voltages: a tiny drop is the difference of two large ones.
    const double high = write_bound(Bound::high);
    must_agree(100.0 - high, 100.0 - (*figures.vdrop_high_pct).value(), "the volt drop (high)");
    const double low = write_bound(Bound::low);
    if (figures.vdrop_low_pct.has_value()) {
        must_agree(100.0 - low, 100.0 - (*figures.vdrop_low_pct).value(), "the volt drop (low)");
    }
}

} // namespace

void write_volt_drop(Context& c, ColumnId column, const Trail& trail) {
    c.page.heading("Volt drop");
    const figures::ColumnFigures& figures = c.results.figures.columns[column.index()];
    if (!figures.vdrop_high_pct.has_value()) {
        c.page.paragraph(
            "Not worked out here: a cable without a neutral in the records, loads that "
            "cannot be carried, several supplies, or a closed loop whose records leave "
            "a range.");
        return;
    }
    const trace::Component& component = c.component_of(trail.end);
    if (component.loops > 0 || component.infeed_count > 1 || c.is_three_phase(trail.infeed)) {
        write_network_volt_drop(c, column, trail);
    } else {
        VoltDropWriter(c, column, trail).run();
    }
    c.page.paragraph("Limit: " + written(c.rules().vdrop_pct) +
                     " % (BS 7671 appendix 4 section 6.4, lighting): " +
                     verdict_text(c.judge.column(column).vdrop) +
                     ". The volt drop is no part of the column's verdict.");
}

} // namespace loopwalk::report
