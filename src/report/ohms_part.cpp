// Ohms of each section and their sums; the loop with the source.
#include "loopwalk/base/error.hpp"

#include "parts.hpp"

namespace loopwalk::report {
namespace {

using assess::Complex;
using assess::Conductors;
using assess::EarthPathState;
using assess::Impedances;
using assess::Presence;
using assess::Source;
using base::SectionId;

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

void add_row(Table& table, const std::string& name, const std::string& metres,
             const Conductors& z) {
    std::vector<std::string> cells{name, metres};
    for (const Complex part : {z.line, z.earth, z.neutral}) {
        cells.push_back(written(part.real()));
        cells.push_back(written(part.imag()));
    }
    table.rows.push_back(std::move(cells));
}

void write_condition(Context& c, const std::vector<SectionId>& sections, const Condition& when,
                     TrailOhms& total) {
    Table table{{{"no", Align::number},
                 {"length", Align::number},
                 {"line r", Align::number},
                 {"line x", Align::number},
                 {"earth r", Align::number},
                 {"earth x", Align::number},
                 {"neutral r", Align::number},
                 {"neutral x", Align::number}},
                {}};
    std::size_t number = 0;
    for (const SectionId id : sections) {
        const auto length = c.ohms.length(id);
        const double metres = (when.length == Bound::low ? length.low : length.high).value();
        const Conductors ohms = c.ohms.per_km(id).z.*when.ohms * (metres / 1000.0);
        total.z.*when.ohms += ohms;
        add_row(table, std::to_string(++number), written(metres), ohms);
    }
    add_row(table, "sum", "", total.z.*when.ohms);
    c.page.paragraph(when.title);
    c.page.add(std::move(table));
}

/// Earth path and neutral of the whole trail, as far as the types and terminations tell.
void note_conductors(const Context& c, const std::vector<SectionId>& sections, TrailOhms& total) {
    for (const SectionId id : sections) {
        const assess::CablePerKm& type = c.ohms.per_km(id);
        if (type.has_neutral != Presence::yes) {
            total.neutral = type.has_neutral;
        }
    }
    if (!sections.empty()) {
        total.earth = c.results.figures.sections[sections.back().index()].earth;
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

TrailOhms write_trail_ohms(Context& c, const std::vector<SectionId>& sections) {
    c.page.heading("Ohms along the path");
    c.page.paragraph("Each conductor of each section: ohm per km * length / 1000. The sums are "
                     "those from the supply to this point; the source is not in them.");
    TrailOhms total;
    note_conductors(c, sections, total);
    TrailOhms probe;
    probe.z = summed(c, sections);
    const std::string bounds = " The records are complete here: low and high are the same.";
    write_condition(c, sections,
                    {probe.is_hot_exact() ? "Hot, for the smallest current." + bounds
                                          : "Hot, high bound: for the smallest current.",
                     &Impedances::hot_high, Bound::high},
                    total);
    if (!probe.is_hot_exact()) {
        write_condition(c, sections, {"Hot, low bound.", &Impedances::hot_low, Bound::low}, total);
    }
    write_condition(c, sections,
                    {probe.is_cold_exact() ? "At 20 C, for the largest current." + bounds
                                           : "At 20 C, low bound: for the largest current.",
                     &Impedances::cold_low, Bound::low},
                    total);
    if (!probe.is_cold_exact()) {
        write_condition(c, sections, {"At 20 C, high bound.", &Impedances::cold_high, Bound::high},
                        total);
    }
    total.z = probe.z;
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

} // namespace loopwalk::report
