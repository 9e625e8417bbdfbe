// The verdicts, and why one is not simply met.
#pragma once

#include <cstdint>
#include <string_view>

namespace loopwalk::protection {

/// Worst first among those that count; `none` where there is nothing to judge.
enum class Verdict : std::uint8_t { fails, undecided, meets, not_traced, not_ours, none };
/// The word of the `..._verdict` fields; "" for none.
[[nodiscard]] std::string_view verdict_name(Verdict v) noexcept;

/// Whether a disconnection time is known.
enum class ClearState : std::uint8_t { clears, not_within_table, not_computed };
/// The word of `lw_in_state` and `lw_out_state`.
[[nodiscard]] std::string_view clear_state_name(ClearState s) noexcept;

/// Why a side is not simply met: for lw_why and the findings.
enum class Reason : std::uint8_t {
    none,
    bounds_straddle, ///< meets at one bound and not at the other
    rating_missing,
    type_missing,
    curve_missing,      ///< no curve for the rating; its neighbours leave it open
    limit_not_in_table, ///< the table has no current for the limit time
    ze_missing,
    assumed_source, ///< would meet, but on an assumed source
    earth_broken,   ///< no earth path in the records
    earth_unknown,
    too_slow,       ///< the loop is too high for the device
    reading_over,   ///< a test reading breaks the limit
    reading_near,   ///< it would, once the conductors are warm
    reading_before, ///< one nearer to the source breaks the limit of the same device
    no_device,      ///< nothing recorded upstream that could protect
    tt_without_rcd,
    tt_rcd_missing,
    tt_electrode_missing,
    electrode_too_high, ///< for the residual current of its RCD
    side_missing,
    too_many_devices,    ///< more devices or supplies feed it than are followed
    main_fuse_missing,   ///< council cable behind a distributor's fuse that is not on record
    owner_missing,       ///< of a cable behind a distributor's fuse that may not clear in time
    partly_distributors, ///< one of its feeds has nothing but the distributor's main fuse
    breaking_too_low,
    breaking_missing,
    pscc_missing,           ///< holds with a weaker source than its conventional maximum
    too_long_for_adiabatic, ///< longer than 5 s or not in the table: heat cannot be judged
    i2t_missing,            ///< current above the device's table, its total I2t not known
    withstand_missing,      ///< k or area of the conductor is not in the catalogue
    armour_share,           ///< holds only if the armour carries its share
    divided_current,        ///< of several devices: with all their heat it does not hold
    too_hot,                ///< more heat than the conductor survives
    status_unclear,         ///< what feeds it has a status that nobody explained
    phases_unclear,         ///< joined ways feed it that may be of different phases
};

/// TT without a residual current device, or none on record: `no-rcd` tells it.
[[nodiscard]] constexpr bool is_about_rcd(Reason reason) noexcept {
    return reason == Reason::tt_without_rcd || reason == Reason::tt_rcd_missing;
}

/// A test reading decides, not what the records predict: `reading-over-limit` tells it.
[[nodiscard]] constexpr bool is_about_reading(Reason reason) noexcept {
    return reason == Reason::reading_over || reason == Reason::reading_near ||
           reason == Reason::reading_before;
}

/// The worse of two verdicts; `none`, `not_ours` and `not_traced` give way to one that counts.
[[nodiscard]] Verdict worse(Verdict a, Verdict b) noexcept;

} // namespace loopwalk::protection
