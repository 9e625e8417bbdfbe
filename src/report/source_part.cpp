// The supply: what is recorded of it, what is assumed, and its impedance for each kind of fault.
#include "loopwalk/base/text.hpp"
#include "loopwalk/model/names.hpp"

#include "parts.hpp"

namespace loopwalk::report {
namespace {

using impedance::Source;
using model::Basis;
using model::basis_name;
using model::Supply;
using model::SupplyKind;

std::string kind_text(SupplyKind kind) {
    switch (kind) {
    case SupplyKind::pillar:
        return "feeder pillar";
    case SupplyKind::section_pillar:
        return "section pillar (no source)";
    case SupplyKind::service:
        return "service of the distributor";
    case SupplyKind::substation:
        return "substation";
    case SupplyKind::unknown:
        return "supply of unrecorded kind";
    }
    return "";
}

std::string earthing_text(const Supply& supply) {
    return std::string(supply.earthing == model::Earthing::unknown
                           ? "not recorded"
                           : model::earthing_name(supply.earthing));
}

std::string ze_text(const Context& c, const Supply& supply, const Source& source) {
    if (source.complex_ze.has_value()) {
        return "Ze, the loop impedance outside: " + written(source.complex_ze->real()) +
               " ohm resistance and " + written(source.complex_ze->imag()) + " ohm reactance, " +
               std::string(basis_name(source.ze_basis)) + ".";
    }
    if (!source.has_ze) {
        return "Ze, the loop impedance outside: not recorded, and nothing bounds it.";
    }
    if (source.is_ze_read) {
        return "Ze, the loop impedance outside: " + written(source.ze.high.value()) +
               " ohm, a test reading at the supply, above " +
               (supply.ze.has_value() ? "the recorded " + written((*supply.ze).value()) + " ohm."
                                      : "what its record, or its lack, stands for.");
    }
    if (!source.ze_missing) {
        return "Ze, the loop impedance outside: " + written(source.ze.high.value()) + " ohm, " +
               std::string(basis_name(source.ze_basis)) + ".";
    }
    const std::string from =
        c.results.assumptions.ze.has_value()
            ? "the job's range"
            : "from the strongest source to what is usual for " + earthing_text(supply);
    return "Ze, the loop impedance outside: not recorded; assumed " +
           written(source.ze.low.value()) + " to " + written(source.ze.high.value()) + " ohm (" +
           from + ").";
}

/// Where a supply's voltage comes from.
std::string voltage_text(const Context& c, const Supply& supply, const Source& source) {
    return supply.voltage.has_value()       ? ", recorded."
           : source.u0 == c.rules().voltage ? ", default."
                                            : ", that of the substation on its mains.";
}

struct Strength {
    std::string text;
    double ka = 0.0;
};

Strength strength_of(const Context& c, const Supply& supply, const Source& source) {
    const std::string basis = ", " + std::string(basis_name(source.pscc_basis));
    if (source.is_pscc_read) {
        const double ka = (*supply.pscc_read_ka).value();
        return {"Largest current at its terminals (pscc): " + written(ka) +
                    " kA, a test reading, above " +
                    (supply.pscc_ka.has_value()
                         ? "the recorded " + written((*supply.pscc_ka).value()) + " kA."
                         : "what its record, or its lack, stands for."),
                ka};
    }
    if (supply.pscc_ka.has_value()) {
        const double ka = (*supply.pscc_ka).value();
        return {"Largest current at its terminals (pscc): " + written(ka) + " kA" + basis + ".",
                ka};
    }
    if (supply.pscc3_ka.has_value()) {
        const double ka = (*supply.pscc3_ka).value();
        return {"Largest three-phase current at its terminals: " + written(ka) + " kA" + basis +
                    "; no single-phase loop is stronger.",
                ka};
    }
    const double ka = c.results.assumptions.pscc_ka.has_value()
                          ? c.results.assumptions.pscc_ka->high.value()
                          : c.rules().pscc_service_ka;
    return {"Largest current at its terminals (pscc): not recorded; assumed " + written(ka) +
                " kA.",
            ka};
}

/// M = C * U0 / I, C = 1 for a measured current: meters work at nominal voltage.
double write_strongest(Context& c, WorkingLines& lines, const std::string& name,
                       const Source& source, Basis basis, double ka) {
    const bool measured = basis == Basis::measured;
    const Term u0(source.u0.value());
    const Term amperes = Term(ka) * Term(1000.0);
    return lines
        .line(name, measured ? "U0 / I" : "Cmax * U0 / I",
              measured ? u0 / amperes : Term(c.rules().cmax) * u0 / amperes, "ohm")
        .value();
}

} // namespace

namespace {

void write_modelled(Context& c, const Supply& supply, const Source& source) {
    if (!source.is_modelled || (source.is_ze_read && source.is_pscc_read)) {
        return;
    }
    c.page.paragraph("What " + c.text(supply.id) +
                     "'s own record lacks follows from a substation on the distributor's mains. "
                     "Ze there: " +
                     written(source.ze.high.value()) +
                     " ohm; M there: " + written(source.strongest.value()) +
                     " ohm; the mains between are part of the path.");
}

/// z% of 3 * U0^2 / S (IEC 60909-0:2016, 6.3.1).
void write_transformer(Context& c, const Supply& supply, const Source& source) {
    const Term u0(source.u0.value());
    const Term base =
        Term(3.0) * power(u0, 2.0) / (Term((*supply.transformer_kva).value()) * Term(1000.0));
    WorkingLines lines;
    const Term whole = lines.line("3 * U0^2 / S", "", base, "ohm");
    const Term z = lines.line("Z transformer", "z% / 100 * 3 * U0^2 / S",
                              Term((*supply.transformer_z_pct).value()) / 100.0 * whole, "ohm");
    must_agree(z.value(), source.strongest.value(), "the transformer's impedance");
    const bool is_ze_recorded = source.is_ze_read || supply.ze.has_value() ||
                                (supply.ze_r.has_value() && supply.ze_x.has_value());
    if (!is_ze_recorded && source.complex_ze.has_value() && supply.transformer_r_pct.has_value()) {
        const Term r = lines.line("R transformer", "r% / 100 * 3 * U0^2 / S",
                                  Term((*supply.transformer_r_pct).value()) / 100.0 * whole, "ohm");
        must_agree(r.value(), source.complex_ze->real(), "the transformer's resistance");
        const Term x = lines.line("X transformer", "sqrt(Z^2 - R^2)",
                                  power(power(z, 2.0) - power(r, 2.0), 0.5), "ohm");
        must_agree(x.value(), source.complex_ze->imag(), "the transformer's reactance");
    }
    c.page.paragraph("Transformer of " + written((*supply.transformer_kva).value()) + " kVA, z " +
                     written((*supply.transformer_z_pct).value()) + " %" +
                     (supply.transformer_r_pct.has_value()
                          ? ", r " + written((*supply.transformer_r_pct).value()) + " %"
                          : "") +
                     ". What it does not state follows from it; Z is M, and Ze where none is "
                     "recorded.");
    lines.put_on(c.page);
}

void write_strongest_lines(Context& c, const Supply& supply, const Source& source,
                           const Strength& strength) {
    WorkingLines lines;
    must_agree(write_strongest(c, lines, "M", source, source.pscc_basis, strength.ka),
               source.strongest.value(), "the strongest source");
    if (source.is_three_phase) {
        const base::Maybe<base::Number> three = impedance::three_phase_ka(supply);
        const double phase =
            three.has_value()
                ? write_strongest(c, lines, "M phase", source, supply.pscc_basis, (*three).value())
                : lines.line("M phase", "M / 2", Term(source.strongest.value()) / 2.0, "ohm")
                      .value();
        must_agree(phase, source.strongest_phase.value(), "a phase's share of the source");
    }
    c.page.paragraph("M is the impedance of the source at its strongest, for the largest current.");
    lines.put_on(c.page);
}

} // namespace

void write_supply_source(Context& c, base::SupplyId id) {
    const Supply& supply = c.layers().supplies[id.index()];
    const Source& source = c.results.figures.sources[id.index()];
    c.page.heading("Supply " + c.text(supply.id));
    const bool has_current = supply.pscc_ka.has_value() || supply.pscc3_ka.has_value();
    const bool has_transformer = !has_current && !source.is_pscc_read &&
                                 supply.transformer_kva.has_value() &&
                                 supply.transformer_z_pct.has_value();
    const Strength strength = strength_of(c, supply, source);
    std::vector<std::string> items{
        "Kind: " + kind_text(supply.kind) + ". Earthing: " + earthing_text(supply) + ".",
        "U0, line to earth: " + written(source.u0.value()) + " V" +
            voltage_text(c, supply, source) + " Factors: Cmin " + written(c.rules().cmin) +
            " (BS 7671 reg 411.4.4), Cmax " + written(c.rules().cmax) + " (IEC 60909-0 table 1).",
        ze_text(c, supply, source)};
    const bool is_as_modelled = source.is_modelled && !source.is_pscc_read;
    if (!has_transformer && !is_as_modelled) {
        items.push_back(strength.text);
    }
    if (source.is_three_phase) {
        items.push_back(supply.pscc3_ka.has_value()
                            ? "Three phases; largest three-phase current " +
                                  written((*supply.pscc3_ka).value()) + " kA."
                            : "Three phases; no three-phase current is recorded.");
    }
    c.page.add(Bullets{items});
    if (has_transformer) {
        write_transformer(c, supply, source);
    } else if (is_as_modelled) {
        write_modelled(c, supply, source);
    } else {
        write_strongest_lines(c, supply, source, strength);
    }
}

void write_source(Context& c, base::InfeedId infeed) {
    if (const auto supply = c.net().supply_of(infeed)) {
        write_supply_source(c, *supply);
        return;
    }
    const Source& source = *c.source_of(infeed);
    c.page.heading("Source");
    c.page.paragraph(
        "Main " + c.text(c.layers().mains[c.net().main_of(infeed)->index()].id) +
        " of the distributor, fed from a substation on record. U0 " + written(source.u0.value()) +
        " V, Cmin " + written(c.rules().cmin) + ", Cmax " + written(c.rules().cmax) +
        "; Ze at the substation " + written(source.ze.high.value()) + " ohm, M there " +
        written(source.strongest.value()) + " ohm; the mains between are part of the path.");
}

} // namespace loopwalk::report
