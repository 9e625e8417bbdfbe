// The supply: what is recorded of it, what is assumed, and its impedance for each kind of fault.
#include "loopwalk/base/text.hpp"

#include "parts.hpp"

namespace loopwalk::report {
namespace {

using assess::Source;
using model::Basis;
using model::Earthing;
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

std::string earthing_text(Earthing earthing) {
    switch (earthing) {
    case Earthing::tn_c_s:
        return "TN-C-S";
    case Earthing::tn_s:
        return "TN-S";
    case Earthing::tt:
        return "TT";
    case Earthing::unknown:
        return "not recorded";
    }
    return "";
}

std::string ze_text(const Context& c, const Supply& supply, const Source& source) {
    if (source.complex_ze.has_value()) {
        return "Ze, the loop impedance outside: " + written(source.complex_ze->real()) +
               " ohm resistance and " + written(source.complex_ze->imag()) + " ohm reactance, " +
               basis_text(source.ze_basis) + ".";
    }
    if (!source.has_ze) {
        return "Ze, the loop impedance outside: not recorded, and nothing bounds it.";
    }
    if (!source.ze_missing) {
        return "Ze, the loop impedance outside: " + written(source.ze.high.value()) + " ohm, " +
               basis_text(source.ze_basis) + ".";
    }
    const std::string from =
        c.results.assumptions.ze.has_value()
            ? "the job's range"
            : "from the strongest source to what is usual for " + earthing_text(supply.earthing);
    return "Ze, the loop impedance outside: not recorded; assumed " +
           written(source.ze.low.value()) + " to " + written(source.ze.high.value()) + " ohm (" +
           from + ").";
}

struct Strength {
    std::string text;
    double ka = 0.0;
};

Strength strength_of(const Context& c, const Supply& supply, const Source& source) {
    const std::string basis = ", " + basis_text(source.pscc_basis);
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
                       const Source& source, double ka) {
    const bool measured = source.pscc_basis == Basis::measured;
    const Term u0(source.u0.value());
    const Term amperes = Term(ka) * Term(1000.0);
    return lines
        .line(name, measured ? "U0 / I" : "Cmax * U0 / I",
              measured ? u0 / amperes : Term(c.rules().cmax) * u0 / amperes, "ohm")
        .value();
}

} // namespace

void write_source(Context& c, base::SupplyId id) {
    const Supply& supply = c.layers().supplies[id.index()];
    const Source& source = c.results.figures.sources[id.index()];
    c.page.heading("Supply " + c.text(supply.id));
    const Strength strength = strength_of(c, supply, source);
    std::vector<std::string> items{
        "Kind: " + kind_text(supply.kind) + ". Earthing: " + earthing_text(supply.earthing) + ".",
        "U0, line to earth: " + written(source.u0.value()) + " V" +
            (supply.voltage.has_value() ? ", recorded." : ", default.") + " Factors: Cmin " +
            written(c.rules().cmin) + " (BS 7671 reg 411.4.4), Cmax " + written(c.rules().cmax) +
            " (IEC 60909-0 table 1).",
        ze_text(c, supply, source), strength.text};
    if (source.is_three_phase) {
        items.push_back(supply.pscc3_ka.has_value()
                            ? "Three phases; largest three-phase current " +
                                  written((*supply.pscc3_ka).value()) + " kA."
                            : "Three phases; no three-phase current is recorded.");
    }
    c.page.add(Bullets{items});
    WorkingLines lines;
    must_agree(write_strongest(c, lines, "M", source, strength.ka), source.strongest.value(),
               "the strongest source");
    if (source.is_three_phase) {
        const double phase =
            supply.pscc3_ka.has_value()
                ? write_strongest(c, lines, "M phase", source, (*supply.pscc3_ka).value())
                : lines.line("M phase", "M / 2", Term(source.strongest.value()) / 2.0, "ohm")
                      .value();
        must_agree(phase, source.strongest_phase.value(), "a phase's share of the source");
    }
    c.page.paragraph("M is the impedance of the source at its strongest, for the largest current.");
    lines.put_on(c.page);
}

} // namespace loopwalk::report
