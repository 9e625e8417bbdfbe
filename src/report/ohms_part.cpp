// Ohms of each section and their sums; the loop with the source.
#include "loopwalk/base/error.hpp"

#include "parts.hpp"
#include "tt_part.hpp"

namespace loopwalk::report {
namespace {

using base::SectionId;
using impedance::Complex;
using impedance::Conductors;
using impedance::EarthPathState;
using impedance::Impedances;
using impedance::Presence;
using impedance::Source;

bool same(const Conductors& a, const Conductors& b) {
    return a.line == b.line && a.earth == b.earth && a.neutral == b.neutral;
}

enum class Bound : bool { low, high };

/// One condition: which conductors of a type, and which length.
struct Condition {
    std::string title;
    Conductors Impedances::*ohms;
    Bound length;
};

const std::vector<TableColumn>& ohm_columns() {
    static const std::vector<TableColumn> table_columns = {
        {"no", Align::number},        {"length", Align::number},   {"line r", Align::number},
        {"line x", Align::number},    {"earth r", Align::number},  {"earth x", Align::number},
        {"neutral r", Align::number}, {"neutral x", Align::number}};
    return table_columns;
}

void add_row(Table& table, const std::string& name, const std::string& metres,
             const Conductors& z) {
    std::vector<std::string> cells{name, metres};
    for (const Complex part : {z.line, z.earth, z.neutral}) {
        cells.push_back(written(part.real()));
        cells.push_back(written(part.imag()));
    }
    table.rows.push_back(std::move(cells));
}

void add_sections(const Context& c, Table& table, const std::vector<SectionId>& sections,
                  const Condition& when, std::size_t first) {
    std::size_t number = first;
    for (const SectionId id : sections) {
        const auto length = c.ohms.length(id);
        const double metres = (when.length == Bound::low ? length.low : length.high).value();
        add_row(table, std::to_string(number++), written(metres),
                c.ohms.per_km(id).z.*when.ohms * (metres / 1000.0));
    }
}

Impedances summed(const Context& c, const std::vector<SectionId>& sections) {
    Impedances z;
    for (const SectionId id : sections) {
        const auto length = c.ohms.length(id);
        const double low = length.low.value() / 1000.0;
        const double high = length.high.value() / 1000.0;
        const Impedances& km = c.ohms.per_km(id).z;
        z += {km.hot_low * low, km.hot_high * high, km.cold_low * low, km.cold_high * high};
    }
    return z;
}

/// The conditions that have to be told apart: where both bounds are the same, one table does.
std::vector<Condition> conditions(const TrailOhms& total) {
    const std::string same = " The records are complete here: low and high are the same.";
    std::vector<Condition> list;
    list.push_back({total.is_hot_exact() ? "Hot, for the smallest current." + same
                                         : "Hot, high bound: for the smallest current.",
                    &Impedances::hot_high, Bound::high});
    if (!total.is_hot_exact()) {
        list.push_back({"Hot, low bound.", &Impedances::hot_low, Bound::low});
    }
    list.push_back({total.is_cold_exact() ? "At 20 C, for the largest current." + same
                                          : "At 20 C, low bound: for the largest current.",
                    &Impedances::cold_low, Bound::low});
    if (!total.is_cold_exact()) {
        list.push_back({"At 20 C, high bound.", &Impedances::cold_high, Bound::high});
    }
    return list;
}

/// "R (high)" where there are two bounds, "R" where there is one.
std::string labelled(const std::string& name, const std::string& bound) {
    return bound.empty() ? name : name + " (" + bound + ")";
}

Ohms line_and_earth(WorkingLines& lines, const Conductors& z, const std::string& bound) {
    const auto add = [&](const std::string& name, double line, double earth) {
        return lines.line(labelled(name, bound), "line + earth", Term(line) + Term(earth), "ohm");
    };
    return {add("R", z.line.real(), z.earth.real()), add("X", z.line.imag(), z.earth.imag())};
}

void write_no_loop(Context& c, const Source& source, const TrailOhms& ohms) {
    if (source.is_tt) {
        c.page.paragraph("TT: the fault current returns through the ground. An overcurrent device "
                         "will not clear it; it is judged by its RCD.");
    } else if (!source.has_ze) {
        c.page.paragraph("The supply's external impedance cannot be bounded from the records, so "
                         "no loop impedance is worked out.");
    } else if (ohms.earth == EarthPathState::broken) {
        c.page.paragraph("The records show no earth path from here back to the supply, so there "
                         "is no loop impedance.");
    } else if (ohms.earth == EarthPathState::unknown) {
        c.page.paragraph("The records do not tell whether the earth path is whole, so there is no "
                         "upper bound of the loop impedance.");
    }
}

} // namespace

bool TrailOhms::is_hot_exact() const {
    return same(z.hot_low, z.hot_high);
}

bool TrailOhms::is_cold_exact() const {
    return same(z.cold_low, z.cold_high);
}

void write_section_ohms(Context& c, const std::vector<SectionId>& sections, std::size_t first) {
    TrailOhms own;
    own.z = summed(c, sections);
    for (const Condition& when : conditions(own)) {
        Table table{ohm_columns(), {}};
        add_sections(c, table, sections, when, first);
        c.page.paragraph(when.title);
        c.page.add(std::move(table));
    }
}

TrailOhms write_trail_ohms(Context& c, const Trail& trail, const std::vector<LoopOhms>& loops) {
    const auto sections = c.sections_of(trail);
    const Source& source = *c.source_of(trail.infeed);
    TrailOhms total;
    total.z = source.mains;
    total.z += summed(c, sections);
    for (const SectionId id : sections) {
        const SectionState state = state_of(c, id);
        total.earth = std::max(total.earth, state.earth);
        total.neutral = in_series(total.neutral, state.neutral);
    }
    for (const LoopOhms& loop : loops) {
        total.z += loop.z;
        total.earth = std::max(total.earth, loop.earth);
        total.neutral = in_series(total.neutral, loop.neutral);
    }
    c.page.heading("Ohms along the path");
    c.page.paragraph("Each conductor of each section: ohm per km * length / 1000. The sums are "
                     "those from the supply to this point; the source is not in them.");
    const bool has_mains = !same(source.mains.hot_high, {}) || !same(source.mains.cold_low, {});
    for (const Condition& when : conditions(total)) {
        Table table{ohm_columns(), {}};
        add_sections(c, table, sections, when, 1);
        for (std::size_t l = 0; l < loops.size(); ++l) {
            add_row(table, "loop " + std::to_string(l + 1), "", loops[l].z.*when.ohms);
        }
        if (has_mains) {
            add_row(table, "mains", "", source.mains.*when.ohms);
        }
        add_row(table, "sum", "", total.z.*when.ohms);
        c.page.paragraph(when.title);
        c.page.add(std::move(table));
    }
    if (has_mains) {
        c.page.paragraph("Mains: the distributor's mains between the substation and this supply, "
                         "worked from their own records (docs/method.md, modelled sources).");
    }
    return total;
}

Term write_zs(WorkingLines& lines, const Source& source, base::Ohm ze, const Ohms& loop,
              const std::string& bound) {
    if (source.complex_ze.has_value()) {
        const Term r(source.complex_ze->real());
        const Term x(source.complex_ze->imag());
        return lines.line(labelled("Zs", bound), "|Ze + R + jX|", magnitude(r + loop.r, x + loop.x),
                          "ohm");
    }
    const Term zc =
        lines.line(labelled("Zc", bound), "sqrt(R^2 + X^2)", magnitude(loop.r, loop.x), "ohm");
    return lines.line(labelled("Zs", bound), "Ze + Zc", Term(ze.value()) + zc, "ohm");
}

Loop write_loop(Context& c, const Source& source, const TrailOhms& ohms) {
    c.page.heading("Loop impedance and smallest earth-fault current");
    Loop loop;
    loop.is_exact = ohms.is_hot_exact() && source.ze.is_exact();
    if (ohms.earth == EarthPathState::broken || !source.has_ze || source.is_tt) {
        write_no_loop(c, source, ohms);
        return loop;
    }
    c.page.paragraph("The loop is line and earth path, hot, and the source. " +
                     std::string(source.complex_ze.has_value()
                                     ? "The source is known by resistance and reactance."
                                     : "The source is known by its size only and is added in full, "
                                       "which errs to the larger side."));
    WorkingLines lines;
    const std::string high = loop.is_exact ? "" : "high";
    loop.high = line_and_earth(lines, ohms.z.hot_high, high);
    if (ohms.earth == EarthPathState::intact) {
        loop.zs_high = write_zs(lines, source, source.ze.high, loop.high, high);
    }
    if (loop.is_exact) {
        loop.low = loop.high;
    } else {
        loop.low = line_and_earth(lines, ohms.z.hot_low, "low");
    }
    if (loop.is_exact && loop.zs_high.has_value()) {
        loop.zs_low = loop.zs_high;
    } else {
        loop.zs_low = write_zs(lines, source, source.ze.low, loop.low, "low");
    }
    if (loop.zs_high.has_value()) {
        lines.line("I smallest", "Cmin * U0 / " + labelled("Zs", high),
                   Term(c.rules().cmin) * Term(source.u0.value()) / *loop.zs_high, "A");
    }
    lines.put_on(c.page);
    if (ohms.earth == EarthPathState::unknown) {
        write_no_loop(c, source, ohms);
    }
    return loop;
}

Loop write_tt_loop(Context& c, base::ColumnId id, const Source& source, const TrailOhms& ohms) {
    c.page.heading("Loop impedance and smallest earth-fault current");
    c.page.paragraph(
        "TT: the fault current returns through the ground, from the electrode that the "
        "column's metal is joined to, to that of the source. An overcurrent device "
        "will not clear it; it is judged by its RCD.");
    Loop loop;
    const figures::TtEarth earth = c.judge.facts().tt_earth(id);
    if (!earth.low.has_value() && !earth.high.has_value()) {
        c.page.paragraph("No electrode that reaches it is recorded, so no loop is worked out.");
        return loop;
    }
    if (!source.is_tt) {
        c.page.paragraph("The supply is not TT, so the electrode of its source is not recorded and "
                         "takes the range of a TT source.");
    }
    write_tt_record(c, id);
    const base::Bounds<base::Ohm> at_source = figures::source_electrode(source, c.rules());
    c.page.paragraph("Electrode of the source: " + written(at_source.low.value()) + " to " +
                     written(at_source.high.value()) + " ohm.");
    WorkingLines lines;
    const auto add = [&](const std::string& bound, const Conductors& z, base::Ohm at,
                         const Term& local) {
        const Term line = lines.line("Z line (" + bound + ")", "sqrt(R line^2 + X line^2)",
                                     magnitude(Term(z.line.real()), Term(z.line.imag())), "ohm");
        return lines.line("Zs (" + bound + ")", "source electrode + Z line + Ra + R2",
                          Term(at.value()) + line + local, "ohm");
    };
    const TtTerms local = write_tt_earth(lines, c.judge.facts().tt_record(id));
    if (local.low.has_value()) {
        must_agree(local.low->value(), (*earth.low).value(), "the earth of the column (low)");
        loop.zs_low = add("low", ohms.z.hot_low, at_source.low, *local.low);
    }
    if (local.high.has_value()) {
        must_agree(local.high->value(), (*earth.high).value(), "the earth of the column (high)");
        loop.zs_high = add("high", ohms.z.hot_high, at_source.high, *local.high);
        lines.line("I smallest", "Cmin * U0 / Zs (high)",
                   Term(c.rules().cmin) * Term(source.u0.value()) / *loop.zs_high, "A");
    }
    lines.put_on(c.page);
    return loop;
}

Loop write_given_loop(Context& c, const Source& source, const figures::ColumnFigures& figures) {
    c.page.heading("Loop impedance and smallest earth-fault current");
    Loop loop;
    if (figures.earth == EarthPathState::broken || !source.has_ze || source.is_tt) {
        TrailOhms ohms;
        ohms.earth = figures.earth;
        write_no_loop(c, source, ohms);
        return loop;
    }
    if (figures.has_unknown_source) {
        c.page.paragraph("One of the sources that feed this point together has no impedance on "
                         "record, so nothing bounds the loop from it alone.");
        return loop;
    }
    const auto complex_text = [](Complex z) {
        return written(z.real()) + " ohm resistance and " + written(z.imag()) + " ohm reactance";
    };
    const bool joined = figures.state == figures::FigureState::several;
    std::string text = "Line and earth path, hot, without the source";
    text += joined ? ", from the weakest supply alone: " : ": at the high bound ";
    text += complex_text(figures.loop_high);
    text += joined ? "" : ", at the low bound " + complex_text(figures.loop_low);
    c.page.paragraph(text + ".");
    WorkingLines lines;
    loop.high = {figures.loop_high.real(), figures.loop_high.imag()};
    loop.low = {figures.loop_low.real(), figures.loop_low.imag()};
    if (figures.earth == EarthPathState::intact) {
        loop.zs_high = write_zs(lines, source, source.ze.high, loop.high, "high");
    }
    if (!joined) { // with all of them connected it is lower: no sum of one supply's
        loop.zs_low = write_zs(lines, source, source.ze.low, loop.low, "low");
    }
    lines.put_on(c.page);
    return loop;
}

} // namespace loopwalk::report
