#include "loopwalk/impedance/source.hpp"

#include <algorithm>
#include <cmath>

namespace loopwalk::impedance {
namespace {

using base::Ampere;
using base::Bounds;
using base::Maybe;
using base::Number;
using base::Ohm;
using model::Basis;
using model::Earthing;

/// M of a recorded prospective current: Cmax*U0/I for a declared figure, so that the current at the
/// supply is the declared one; U0/I for a measured one, since meters work at nominal voltage.
Ohm source_ohms(const Source& source, base::Number pscc_ka, Basis basis, double cmax) {
    const double factor = basis == Basis::measured ? 1.0 : cmax;
    return source.u0 * factor / Ampere(pscc_ka.value() * 1000.0);
}

/// Impedance of a transformer seen from its low-voltage side, ohm a phase: z% of U^2/S with U
/// between lines (IEC 60909-0:2016, 6.3.1). What feeds the transformer is taken as without
/// impedance.
Maybe<Ohm> transformer_ohms(const Source& source, const model::Supply& supply,
                            Maybe<Number> percent) {
    if (!supply.transformer_kva.has_value() || !percent.has_value()) {
        return {};
    }
    const double lines_squared = 3.0 * source.u0.value() * source.u0.value();
    return Ohm((*percent).value() / 100.0 * lines_squared /
               ((*supply.transformer_kva).value() * 1000.0));
}

void set_strongest(Source& source, const model::Supply& supply, const config::Rules& rules,
                   const Assumptions& assumptions) {
    source.pscc_basis = supply.pscc_basis;
    bool is_single_phase_figure = true; // then a phase's share of a three-phase fault is half of it
    if (supply.pscc_ka.has_value()) {
        source.strongest = source_ohms(source, *supply.pscc_ka, supply.pscc_basis, rules.cmax);
    } else if (supply.pscc3_ka.has_value()) {
        // A phase's share of the three-phase fault: no single-phase loop is smaller.
        source.strongest = source_ohms(source, *supply.pscc3_ka, supply.pscc_basis, rules.cmax);
        is_single_phase_figure = false;
    } else if (const auto z = transformer_ohms(source, supply, supply.transformer_z_pct); z) {
        source.strongest = *z;
        source.pscc_basis = Basis::declared;
        is_single_phase_figure = false;
    } else {
        const base::Number assumed = assumptions.pscc_ka.has_value()
                                         ? assumptions.pscc_ka->high
                                         : base::Number(rules.pscc_service_ka);
        source.pscc_missing = true;
        source.pscc_basis = Basis::assumed;
        source.strongest = source_ohms(source, assumed, Basis::assumed, rules.cmax);
    }
    source.strongest_phase =
        supply.pscc3_ka.has_value()
            ? source_ohms(source, *supply.pscc3_ka, supply.pscc_basis, rules.cmax)
        : is_single_phase_figure ? source.strongest / 2.0
                                 : source.strongest;
}

void set_missing_ze(Source& source, const model::Supply& supply, const config::Rules& rules,
                    const Assumptions& assumptions) {
    source.ze_missing = true;
    source.ze_basis = Basis::assumed;
    if (assumptions.ze.has_value()) {
        source.has_ze = true;
        source.ze = *assumptions.ze;
        return;
    }
    if (supply.earthing == Earthing::tt) {
        source.has_ze = true;
        source.ze = {Ohm(0.0), rules.ze_high_tt};
        return;
    }
    if (supply.earthing != Earthing::tn_c_s && supply.earthing != Earthing::tn_s) {
        source.earthing_missing = supply.earthing == Earthing::unknown;
        return;
    }
    const Ohm high =
        supply.earthing == Earthing::tn_c_s ? rules.ze_high_tn_c_s : rules.ze_high_tn_s;
    source.has_ze = true;
    source.ze = {std::min(source.strongest, high), high};
}

void set_ze(Source& source, const model::Supply& supply, const config::Rules& rules,
            const Assumptions& assumptions) {
    source.ze_basis = supply.ze_basis;
    if (supply.ze_r.has_value() && supply.ze_x.has_value()) {
        source.complex_ze = Complex((*supply.ze_r).value(), (*supply.ze_x).value());
        source.ze = Bounds<Ohm>::exactly(Ohm(std::abs(*source.complex_ze)));
        source.has_ze = true;
    } else if (supply.ze.has_value()) {
        source.ze = Bounds<Ohm>::exactly(*supply.ze);
        source.has_ze = true;
    } else if (const auto z = transformer_ohms(source, supply, supply.transformer_z_pct);
               z && !source.is_tt) { // of a TT source the electrode counts, not its transformer
        source.ze_basis = Basis::declared;
        source.ze = Bounds<Ohm>::exactly(*z);
        source.has_ze = true;
        if (const auto r = transformer_ohms(source, supply, supply.transformer_r_pct);
            r && *r <= *z) {
            source.complex_ze = Complex(
                (*r).value(), std::sqrt(std::pow((*z).value(), 2.0) - std::pow((*r).value(), 2.0)));
        }
    } else {
        set_missing_ze(source, supply, rules, assumptions);
    }
}

} // namespace

Source source_of(const model::Supply& supply, const config::Rules& rules,
                 const Assumptions& assumptions) {
    Source source;
    source.u0 = supply.voltage.value_or(rules.voltage);
    source.is_tt = supply.earthing == Earthing::tt;
    source.is_three_phase = supply.phases.has_value() && (*supply.phases).value() == 3.0;
    set_strongest(source, supply, rules, assumptions);
    set_ze(source, supply, rules, assumptions);
    const bool measured = source.has_ze && source.ze_basis == Basis::measured;
    source.reading_low = measured ? source.ze.low : std::min(source.ze.low, source.strongest);
    return source;
}

Source with_mains(const Source& recorded, const Source& substation) {
    Source source = recorded;
    const bool model_ze = recorded.ze_missing && !recorded.is_tt;
    const bool model_pscc = recorded.pscc_missing;
    source.is_modelled = model_ze || model_pscc;
    source.has_band = model_ze == model_pscc;
    if (model_ze) {
        source.has_ze = substation.has_ze;
        source.ze = substation.ze;
        source.complex_ze = substation.complex_ze;
        source.ze_basis = substation.ze_basis;
        source.ze_missing = source.earthing_missing = false;
        source.mains_incomplete = substation.mains_incomplete;
        source.mains.hot_low = substation.mains.hot_low;
        source.mains.hot_high = substation.mains.hot_high;
    }
    if (model_pscc) {
        source.strongest = substation.strongest;
        source.strongest_phase = substation.strongest_phase;
        source.pscc_basis = substation.pscc_basis;
        source.pscc_missing = false;
        source.mains.cold_low = substation.mains.cold_low;
        source.mains.cold_high = substation.mains.cold_high;
    }
    if (model_ze && model_pscc) { // else there is no band, or the recorded one
        source.reading_low = substation.reading_low;
    }
    return source;
}

Maybe<Number> three_phase_ka(const model::Supply& supply) {
    const bool is_beaten = supply.pscc3_ka.has_value() && supply.pscc_read_ka.has_value() &&
                           *supply.pscc_read_ka > *supply.pscc3_ka;
    return is_beaten ? Maybe<Number>{} : supply.pscc3_ka;
}

Source with_readings(Source source, const model::Supply& supply, double cmax) {
    const Conductors& hot = source.mains.hot_high;
    if (supply.ze_read.has_value() && source.has_ze && !source.is_tt &&
        *supply.ze_read > loop_impedance(source, source.ze.high, hot.line + hot.earth)) {
        source.ze = Bounds<Ohm>::exactly(*supply.ze_read);
        source.complex_ze.reset();
        source.ze_basis = Basis::measured;
        source.ze_missing = source.mains_incomplete = false;
        source.mains.hot_low = source.mains.hot_high = {};
        source.is_ze_read = true;
    }
    const Conductors& cold = source.mains.cold_low;
    const double factor = source.pscc_basis == Basis::measured ? 1.0 : cmax;
    const Ohm least = smallest_loop(source.strongest, cold.line + cold.neutral);
    if (supply.pscc_read_ka.has_value() &&
        Ampere((*supply.pscc_read_ka).value() * 1000.0) > source.u0 * factor / least) {
        source.strongest = source_ohms(source, *supply.pscc_read_ka, Basis::measured, cmax);
        const Maybe<Number> three = three_phase_ka(supply);
        source.strongest_phase = three.has_value()
                                     ? source_ohms(source, *three, supply.pscc_basis, cmax)
                                     : source.strongest / 2.0;
        source.pscc_basis = Basis::measured;
        source.pscc_missing = false;
        source.mains.cold_low = source.mains.cold_high = {};
        source.is_pscc_read = true;
    }
    if (source.is_ze_read || source.is_pscc_read) {
        source.has_band =
            source.has_band && (!source.is_modelled || source.is_ze_read == source.is_pscc_read);
        source.reading_low =
            source.is_ze_read ? source.ze.low : std::min(source.ze.low, source.strongest);
    }
    return source;
}

Ohm least_at_terminals(const Source& source) {
    const Conductors& c = source.mains.cold_low;
    Ohm least = smallest_loop(source.strongest, c.line + c.neutral);
    if (!source.is_tt) {
        least = std::min(least, smallest_loop(source.strongest, c.line + c.earth));
    }
    return source.is_three_phase ? std::min(least, smallest_loop(source.strongest_phase, c.line))
                                 : least;
}

Ohm loop_impedance(const Source& source, Ohm ze, Complex loop) {
    if (source.complex_ze.has_value()) {
        return Ohm(std::abs(*source.complex_ze + loop));
    }
    return ze + Ohm(std::abs(loop));
}

Ohm smallest_loop(Ohm m, Complex loop) {
    return Ohm(std::min(std::abs(loop + m.value()), std::abs(loop + Complex(0.0, m.value()))));
}

} // namespace loopwalk::impedance
