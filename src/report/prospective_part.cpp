// The largest prospective current at a point.
#include "parts.hpp"

namespace loopwalk::report {
namespace {

using impedance::Complex;
using impedance::Conductors;
using impedance::EarthPathState;
using impedance::Presence;
using impedance::Source;

/// The current of one loop, kA: the source at the angle, 0 or 90 degrees, that gives most.
Term loop_current(const Context& c, WorkingLines& lines, const std::string& name,
                  const Source& source, base::Ohm m, Complex loop) {
    const Term r(loop.real());
    const Term x(loop.imag());
    const Term strongest(m.value());
    const Term z =
        lines.line("Z " + name, "lesser of |Zc + M| and |Zc + jM|",
                   smallest({magnitude(r + strongest, x), magnitude(r, x + strongest)}), "ohm");
    return lines.line("I " + name, "Cmax * U0 / Z / 1000",
                      Term(c.rules().cmax) * Term(source.u0.value()) / z / Term(1000.0), "kA");
}

/// Which faults count: for the largest current those that may be there, for the smallest of it
/// those that are there for sure.
struct Faults {
    bool to_earth, to_neutral, three_phase;
};

std::optional<Term> write_bound(Context& c, const Source& source, const Conductors& z,
                                const Faults& faults, const std::string& bound) {
    WorkingLines lines;
    std::vector<Term> currents;
    const auto loop = [&](const std::string& name, Complex back) {
        const std::string label = bound.empty() ? name : name + " (" + bound + ")";
        lines.line("R " + label, "line + " + name, Term(z.line.real()) + Term(back.real()), "ohm");
        lines.line("X " + label, "line + " + name, Term(z.line.imag()) + Term(back.imag()), "ohm");
        currents.push_back(loop_current(c, lines, label, source, source.strongest, z.line + back));
    };
    if (faults.to_earth) {
        loop("earth", z.earth);
    }
    if (faults.to_neutral) {
        loop("neutral", z.neutral);
    }
    if (faults.three_phase) {
        currents.push_back(
            loop_current(c, lines, "three-phase", source, source.strongest_phase, z.line));
    }
    if (currents.empty()) {
        return std::nullopt;
    }
    const std::string name = bound.empty() ? "I largest" : "I largest (" + bound + ")";
    const Term most = lines.line(name, "largest of them", largest(currents), "kA");
    lines.put_on(c.page);
    return most;
}

} // namespace

Prospective write_prospective(Context& c, const Trail& trail, const Source& source,
                              const TrailOhms& ohms) {
    c.page.heading("Largest prospective current");
    c.page.paragraph("Conductors at 20 C, the source at its strongest (M). The angle of M is not "
                     "known; the one, along resistance or along reactance, that gives the larger "
                     "current is taken.");
    const bool three = c.is_three_phase(trail.infeed);
    const bool earth_may = ohms.earth != EarthPathState::broken && !source.is_tt;
    const bool earth_is = ohms.earth == EarthPathState::intact && !source.is_tt;
    const Faults may{earth_may, ohms.neutral != Presence::no, three};
    const Faults certain{earth_is, ohms.neutral == Presence::yes, three};
    const bool is_same = ohms.is_cold_exact() && may.to_earth == certain.to_earth &&
                         may.to_neutral == certain.to_neutral;
    Prospective found;
    found.high = write_bound(c, source, ohms.z.cold_low, may, is_same ? "" : "high");
    found.low = is_same ? found.high : write_bound(c, source, ohms.z.cold_high, certain, "low");
    return found;
}

} // namespace loopwalk::report
