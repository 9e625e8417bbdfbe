// The rules that can be broken, one row each: its name, how bad it is where it is certain, the unit
// of its value and limit, and the clause that asks for it. A new rule is an enumerator and a row
// here, a function in checks/, and an entry in docs/findings.md.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

namespace loopwalk::base {

/// Worst first.
enum class Severity : std::uint8_t { danger, fail, warning, note };

/// Rules of the findings layer; docs/findings.md has the meaning of each.
enum class Rule : std::uint8_t {
    not_traced,
    fed_twice,
    supplies_joined,
    phases_joined,
    ways_joined,
    two_phases_in_column,
    three_phase_in_column,
    second_supply,
    live_end,
    loose_end,
    near_miss,
    tee_assumed,
    cut_assumed,
    ambiguous_snap,
    ring,
    duplicate_id,
    duplicate_geometry,
    column_beside_column,
    zero_length,
    bad_geometry,
    bad_value,
    outlier_place,
    length_differs,
    circuit_differs,
    feed_differs,
    owner_differs,
    type_unknown,
    fuse_unknown,
    way_without_cable,
    no_earth_path,
    slow_way,
    slow_cut_out,
    thin_margin,
    fuse_larger_than_upstream,
    breaking_capacity,
    earth_path_heat,
    conductor_heat,
    volt_drop,
    overload,
    cable_unprotected,
    no_discrimination,
    main_fuse_only,
    breaker_in_column,
    fuse_in_neutral,
    no_rcd,
    sockets_without_rcd,
    electrode_high,
    earths_joined,
    pen_in_installation,
    neutral_earth_exposure,
    earth_exposure,
    earths_within_reach,
    load_point_over,
    way_load_over,
    ev_on_pme,
    reading_over_limit,
    reading_high,
    reading_low,
    suspect_termination,
    reading_over_record,
    reading_not_used,
};

/// What is fixed for a rule. Severities and clauses are those of docs/findings.md.
struct RuleRow {
    Rule rule{};           ///< whose row this is
    std::string_view name; ///< as in the findings layer
    Severity severity{};   ///< where it is certain
    std::string_view unit; ///< of value and limit; empty if it has none
    /// of the standard or regulation that the limit comes from; empty if none
    std::string_view clause;
};

// clang-format off: one rule a line
/// All rules in the order of the enumeration.
inline constexpr std::array kRules = {
    RuleRow{Rule::not_traced, "not-traced", Severity::fail, "", ""},
    RuleRow{Rule::fed_twice, "fed-twice", Severity::danger, "supplies", ""},
    RuleRow{Rule::supplies_joined, "supplies-joined", Severity::danger, "", ""},
    RuleRow{Rule::phases_joined, "phases-joined", Severity::danger, "", ""},
    RuleRow{Rule::ways_joined, "ways-joined", Severity::danger, "ways", ""},
    RuleRow{Rule::two_phases_in_column, "two-phases-in-column", Severity::warning, "", ""},
    RuleRow{Rule::three_phase_in_column, "three-phase-in-column", Severity::note, "V", ""},
    RuleRow{Rule::second_supply, "second-supply", Severity::danger, "", ""},
    RuleRow{Rule::live_end, "live-end", Severity::danger, "", ""},
    RuleRow{Rule::loose_end, "loose-end", Severity::warning, "", ""},
    RuleRow{Rule::near_miss, "near-miss", Severity::warning, "m", ""},
    RuleRow{Rule::tee_assumed, "tee-assumed", Severity::note, "m", ""},
    RuleRow{Rule::cut_assumed, "cut-assumed", Severity::note, "m", ""},
    RuleRow{Rule::ambiguous_snap, "ambiguous-snap", Severity::warning, "m", ""},
    RuleRow{Rule::ring, "ring", Severity::warning, "loops", ""},
    RuleRow{Rule::duplicate_id, "duplicate-id", Severity::warning, "", ""},
    RuleRow{Rule::duplicate_geometry, "duplicate-geometry", Severity::warning, "", ""},
    RuleRow{Rule::column_beside_column, "column-beside-column", Severity::warning, "m", ""},
    RuleRow{Rule::zero_length, "zero-length", Severity::warning, "", ""},
    RuleRow{Rule::bad_geometry, "bad-geometry", Severity::warning, "", ""},
    RuleRow{Rule::bad_value, "bad-value", Severity::warning, "", ""},
    RuleRow{Rule::outlier_place, "outlier-place", Severity::warning, "", ""},
    RuleRow{Rule::length_differs, "length-differs", Severity::warning, "ratio", ""},
    RuleRow{Rule::circuit_differs, "circuit-differs", Severity::warning, "", ""},
    RuleRow{Rule::feed_differs, "feed-differs", Severity::warning, "", ""},
    RuleRow{Rule::owner_differs, "owner-differs", Severity::warning, "", ""},
    RuleRow{Rule::type_unknown, "type-unknown", Severity::warning, "", ""},
    RuleRow{Rule::fuse_unknown, "fuse-unknown", Severity::warning, "", ""},
    RuleRow{Rule::way_without_cable, "way-without-cable", Severity::note, "", ""},
    RuleRow{Rule::no_earth_path, "no-earth-path", Severity::danger, "",
            "BS 7671:2018+A2 reg 411.3.1.1"},
    RuleRow{Rule::slow_way, "slow-way", Severity::fail, "margin",
            "BS 7671:2018+A2 reg 714.411.202 (5 s) and 411.4.4"},
    RuleRow{Rule::slow_cut_out, "slow-cut-out", Severity::fail, "margin",
            "BS 7671:2018+A2 reg 714.411.202 (5 s) and 411.4.4"},
    RuleRow{Rule::thin_margin, "thin-margin", Severity::note, "margin", ""},
    RuleRow{Rule::fuse_larger_than_upstream, "fuse-larger-than-upstream", Severity::warning, "A",
            ""},
    RuleRow{Rule::breaking_capacity, "breaking-capacity", Severity::danger, "kA",
            "BS 7671:2018+A2 reg 434.5.1"},
    RuleRow{Rule::earth_path_heat, "earth-path-heat", Severity::fail, "I2t ratio",
            "BS 7671:2018+A2 reg 543.1.3"},
    RuleRow{Rule::conductor_heat, "conductor-heat", Severity::fail, "I2t ratio",
            "BS 7671:2018+A2 reg 434.5.2"},
    RuleRow{Rule::volt_drop, "volt-drop", Severity::warning, "%",
            "BS 7671:2018+A2 appendix 4 section 6.4"},
    RuleRow{Rule::overload, "overload", Severity::fail, "A", "BS 7671:2018+A2 reg 433.1.1"},
    RuleRow{Rule::cable_unprotected, "cable-unprotected", Severity::fail, "A",
            "BS 7671:2018+A2 reg 433.1.1"},
    RuleRow{Rule::no_discrimination, "no-discrimination", Severity::warning, "ratio",
            "BS 7671:2018+A2 reg 536.4.1"},
    RuleRow{Rule::main_fuse_only, "main-fuse-only", Severity::note, "",
            "ESQCR 2002 regs 27 and 28"},
    RuleRow{Rule::breaker_in_column, "breaker-in-column", Severity::note, "", "common practice"},
    RuleRow{Rule::fuse_in_neutral, "fuse-in-neutral", Severity::danger, "",
            "BS 7671:2018+A2 reg 132.14.2"},
    RuleRow{Rule::no_rcd, "no-rcd", Severity::fail, "", "BS 7671:2018+A2 reg 411.5.2"},
    RuleRow{Rule::sockets_without_rcd, "sockets-without-rcd", Severity::fail, "mA",
            "BS 7671:2018+A2 reg 411.3.3"},
    RuleRow{Rule::electrode_high, "electrode-high", Severity::warning, "ohm",
            "BS 7671:2018+A2 table 41.5, note"},
    RuleRow{Rule::earths_joined, "earths-joined", Severity::fail, "",
            "BS 7671:2018+A2 regs 411.5.1 and 542.1.3.3"},
    RuleRow{Rule::pen_in_installation, "pen-in-installation", Severity::danger, "",
            "ESQCR 2002 reg 8(4)"},
    RuleRow{Rule::neutral_earth_exposure, "neutral-earth-exposure", Severity::warning, "V",
            "ESQCR 2002 reg 8(4)"},
    RuleRow{Rule::earth_exposure, "earth-exposure", Severity::warning, "columns",
            "BS 7671:2018+A2 reg 543.3.1"},
    RuleRow{Rule::earths_within_reach, "earths-within-reach", Severity::danger, "m",
            "common practice (2.5 m)"},
    RuleRow{Rule::load_point_over, "load-point-over", Severity::warning, "W",
            "unmetered supplies, common practice; varies by distributor"},
    RuleRow{Rule::way_load_over, "way-load-over", Severity::warning, "W",
            "unmetered supplies, common practice; varies by distributor"},
    RuleRow{Rule::ev_on_pme, "ev-on-pme", Severity::fail, "", "BS 7671:2018+A2 reg 722.411.4.1"},
    RuleRow{Rule::reading_over_limit, "reading-over-limit", Severity::danger, "ohm",
            "BS 7671:2018+A2 reg 714.411.202 (5 s) and 411.4.4"},
    RuleRow{Rule::reading_high, "reading-high", Severity::warning, "ohm", ""},
    RuleRow{Rule::reading_low, "reading-low", Severity::warning, "ohm", ""},
    RuleRow{Rule::suspect_termination, "suspect-termination", Severity::warning, "ohm", ""},
    RuleRow{Rule::reading_over_record, "reading-over-record", Severity::warning, "ohm", ""},
    RuleRow{Rule::reading_not_used, "reading-not-used", Severity::note, "", ""},
};
// clang-format on

/// Row of a rule.
[[nodiscard]] constexpr const RuleRow& row_of(Rule rule) noexcept {
    return kRules[static_cast<std::size_t>(rule)]; // in the order of the enumeration: see below
}

/// "not-traced".
[[nodiscard]] constexpr std::string_view rule_name(Rule rule) noexcept {
    return row_of(rule).name;
}

namespace detail {
[[nodiscard]] constexpr bool rows_are_in_order() noexcept {
    for (std::size_t i = 0; i < kRules.size(); ++i) {
        if (kRules[i].rule != static_cast<Rule>(i)) {
            return false;
        }
    }
    return true;
}
} // namespace detail
static_assert(detail::rows_are_in_order());

} // namespace loopwalk::base
