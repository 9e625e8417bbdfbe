// A supply seen from the network: external loop impedance for the smallest currents, the strongest
// source for the largest (method.md section 4; ESQCR 2002 regs 27 and 28 name what a distributor
// states).
#pragma once

#include "loopwalk/impedance/assumptions.hpp"
#include "loopwalk/impedance/impedance.hpp"
#include "loopwalk/model/layers.hpp"

#include <optional>

namespace loopwalk::impedance {

/// A source as its record, or what stands for missing parts of it, describes it.
struct Source {
    base::Volt u0{};     ///< line to earth
    bool has_ze = false; ///< false: nothing bounds Ze (earthing unknown, nothing recorded)
    base::Bounds<base::Ohm>
        ze; ///< magnitude; of a TT source its own electrode and line, not that at the pillar
    std::optional<Complex> complex_ze; ///< where recorded as R and X
    base::Ohm strongest{};             ///< M of the largest currents
    base::Ohm strongest_phase{};       ///< a phase's share of a three-phase fault
    base::Ohm reading_low{};           ///< M of the low edge of the reading band
    model::Basis ze_basis{};           ///< where Ze comes from
    model::Basis pscc_basis{};         ///< where the prospective current comes from
    bool ze_missing = false;           ///< Ze is not on record: its range by earthing stands
    bool pscc_missing = false;         ///< the conventional maximum stands
    bool earthing_missing = false;     ///< so that no range of Ze is known
    bool is_tt = false;                ///< an electrode is its earth
    bool is_three_phase = false;       ///< it offers three phases; a way may still carry one
    /// In front of the supply's terminals: mains from a modelled substation; else nothing. What is
    /// above then holds at the substation.
    Impedances mains;
    bool is_modelled = false;      ///< Ze, or the prospective current, follows from a substation
    bool mains_incomplete = false; ///< a type or length of those mains is not recorded
    bool is_ze_read = false;       ///< Ze is a reading above what record or substation give
    bool is_pscc_read = false;     ///< the strongest source is that of such a reading
    bool has_band = true;          ///< false: Ze and prospective current have different origins
};

/// A supply as recorded; its readings are not looked at. with_mains() adds what a modelled main
/// gives.
[[nodiscard]] Source source_of(const model::Supply& supply, const config::Rules& rules,
                               const Assumptions& assumptions);

/// Zs = M + |Zc| with a source known by magnitude, |Ze + Zc| with a complex one.
[[nodiscard]] base::Ohm loop_impedance(const Source& source, base::Ohm ze, Complex loop);

/// A supply on mains whose substation is modelled: what its own record lacks follows from there.
/// `substation`: source of that substation with `mains` set to what lies between.
[[nodiscard]] Source with_mains(const Source& recorded, const Source& substation);

/// Readings at the supply that are worse than the source as it is known take its place, as measured
/// at the terminals (method.md section 11); a better one changes nothing.
[[nodiscard]] Source with_readings(Source source, const model::Supply& supply, double cmax);

/// The three-phase current that is recorded; none where a reading between line and neutral is
/// larger, which it cannot be.
[[nodiscard]] base::Maybe<base::Number> three_phase_ka(const model::Supply& supply);

/// Smallest impedance of any fault at the supply's terminals, the source at its strongest.
[[nodiscard]] base::Ohm least_at_terminals(const Source& source);

/// Smallest impedance that a loop in front of a source of magnitude `m` can have, whatever the
/// source's angle between 0 and 90 degrees: the lesser of |Zc + M| and |Zc + jM|.
[[nodiscard]] base::Ohm smallest_loop(base::Ohm m, Complex loop);

} // namespace loopwalk::impedance
