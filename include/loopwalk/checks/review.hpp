// One pass over all columns and sections: findings for what breaks a limit, and the sums by way,
// device and supply that the output and the summary show.
#pragma once

#include "loopwalk/base/finding.hpp"
#include "loopwalk/checks/why.hpp"
#include "loopwalk/ends/cable_ends.hpp"

#include <array>
#include <map>
#include <string>
#include <vector>

namespace loopwalk::checks {

using impedance::Assumptions;
using protection::Judge;
using protection::Verdict;

/// A way of a source with everything it feeds. Margins are those of incoming sides.
struct InfeedSummary {
    std::array<std::uint32_t, 6> by_verdict{}; ///< columns, by their own Verdict
    Verdict verdict = Verdict::none;           ///< of its worst column
    ColumnId worst_column;                     ///< one with that verdict
    Verdict device = Verdict::none;            ///< whether its fuse can break the largest current
    ColumnId worst;             ///< worst incoming side, of equals with the smallest margin
    ColumnId fails_from;        ///< the failing column nearest to the supply
    base::Metre fails_from_run; ///< metres of cable from the supply to it
    Side worst_side;            ///< of that column
    ColumnId slowest;           ///< the worst before readings are looked at
    Side slowest_side;          ///< of that column
    std::uint32_t slow = 0;     ///< columns predicted as badly as the slowest
    base::Maybe<base::Number> vdrop_low_pct, vdrop_high_pct; ///< at the column with the largest
    ColumnId vdrop_at;                                       ///< that column
    ColumnId thin_at; ///< smallest margin below the thin limit among those that meet
    base::Maybe<base::Number> thin_margin; ///< of that column; none if all margins are wider
    std::uint32_t thin = 0;                ///< columns that meet with a thin margin
    /// For the whole way, of its device's own type: the largest rating that clears at every column,
    /// the smallest that carries the load and leaves the cut-outs behind it to open first.
    base::Maybe<base::Ampere> fuse_max, fuse_min;
    base::Maybe<base::Number> fuse_max_margin; ///< of that largest, at the slowest column
    std::vector<ColumnId> slow_columns;        ///< predicted not to meet on their incoming side
    std::vector<ColumnId> without_earth;       ///< no earth path on record
};

/// What stands behind a device, over all columns and sections that it is the nearest device of.
struct DeviceSummary {
    /// metres of cable by what becomes of a fault there
    double clears_m = 0.0, not_m = 0.0, undecided_m = 0.0;
    std::uint32_t columns = 0;                      ///< whose nearest device it is
    Verdict verdict = Verdict::none;                ///< of the worst section
    base::Maybe<base::Ampere> current, current_low; ///< design current, high and low bound
};

/// Sums over the columns that hang on a supply, whatever their way.
struct SupplySummary {
    std::uint32_t columns = 0;                 ///< in service
    base::Bounds<base::Watt> load;             ///< real power, low and high bound
    std::array<std::uint32_t, 6> by_verdict{}; ///< columns, by Verdict
    Verdict verdict = Verdict::none;           ///< of its worst column
};

/// Of all columns: for the summary.
struct Totals {
    std::array<std::uint32_t, 6> by_verdict{};    ///< columns, by Verdict
    std::array<std::uint32_t, 5> by_feed{};       ///< columns, by FeedKind
    std::array<std::uint32_t, 4> main_by_basis{}; ///< columns fed from a main, by FeedBasis
    std::map<Reason, std::uint32_t> undecided;    ///< columns, by the first reason for it
    std::uint32_t columns = 0;                    ///< in service
};

/// What is known of ways, devices, supplies and columns once all is judged.
struct Review {
    std::vector<InfeedSummary> infeeds;  ///< by infeed of the network
    std::vector<DeviceSummary> devices;  ///< by device of the network
    std::vector<SupplySummary> supplies; ///< by supply of the records
    /// Columns whose verdict is undecided on their incoming side or beyond the cut-out.
    std::vector<ColumnId> undecided;
    std::vector<Verdict> verdicts;        ///< by column; none: not in service
    std::vector<ColumnId> main_fuse_only; ///< nothing but the distributor's fuse stands before them
    std::vector<std::pair<base::SectionId, ColumnId>> overheated; ///< section on a column's path
    Totals totals;                                                ///< of everything
};

/// Everything the review needs to look at.
struct ReviewInput {
    const model::Layers& layers;           ///< as read
    const catalogue::Catalogue& catalogue; ///< of the job
    const config::Rules& rules;            ///< of the job
    const network::Network& network;       ///< the snapped one
    const trace::Trace& trace;             ///< what feeds what
    const Figures& figures;                ///< impedances and currents
    const Assumptions& assumptions;        ///< what stands for missing records
    const ends::CableEnds& ends;           ///< of cables at assets
};

/// Reports second-supply, live-end, loose-end, no-earth-path, three-phase-in-column, feed-differs,
/// owner-differs, sockets-without-rcd, slow-way, slow-cut-out, thin-margin, breaking-capacity,
/// earth-path-heat, conductor-heat, volt-drop, overload, cable-unprotected, no-discrimination,
/// no-rcd, earths-joined, ev-on-pme, neutral-earth-exposure, earth-exposure, main-fuse-only,
/// breaker-in-column, fuse-in-neutral, pen-in-installation, earths-within-reach, load-point-over,
/// way-load-over, circuit-differs, reading-over-limit, -high and -low.
[[nodiscard]] Review review(const ReviewInput& input, Judge& judge, base::FindingSink& findings,
                            base::Progress& progress);

} // namespace loopwalk::checks
