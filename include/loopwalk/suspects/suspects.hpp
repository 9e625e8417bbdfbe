// From test readings of loop impedance at several columns of a way: which termination, joint or
// section is bad. docs/method.md section 11, docs/suspects.md.
#pragma once

#include "loopwalk/checks/review.hpp"
#include "loopwalk/suspects/explain.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loopwalk::suspects {

/// Where resistance may hide: a section with its ends, a fuse or busbar that current passes, or
/// inside a column (its cut-out and tail).
struct Place {
    base::EdgeId edge;     ///< invalid: inside `column`
    base::ColumnId column; ///< invalid: `edge`
    friend auto operator<=>(const Place&, const Place&) = default;
};

/// Places that the readings cannot tell apart, and what is hidden in one of them.
struct Suspect {
    base::InfeedId infeed;         ///< the way
    std::uint32_t rank = 0;        ///< 1: the most likely of its way
    std::vector<Place> places;     ///< nearest the supply first; not empty
    Explanation explanation;       ///< ohms and how likely
    std::uint32_t readings = 0;    ///< beyond it
    std::uint32_t of_readings = 0; ///< of the way, in all
    /// The column without a reading that tells the suspects of the way apart best; invalid: none.
    base::ColumnId next_reading;
};

/// Of all ways with a reading above what the records allow by more than its instrument's error,
/// ways in order. Readings of columns that several devices feed, that lie in or behind a loop, or
/// that have no reading band (TT, unknown source, no earth path) are left out.
[[nodiscard]] std::vector<Suspect> find(const checks::ReviewInput& input,
                                        const protection::Judge& judge);

/// "section K1 from A to B with its ends", one after the other.
[[nodiscard]] std::string text_of(const checks::ReviewInput& input, const Suspect& suspect);

/// The record that a place belongs to.
struct PlaceRecord {
    base::AssetLayer layer{}; ///< of the record
    std::string asset_id;     ///< empty: a place with no record of its own
    std::string cable_id;     ///< empty: no section
};
/// Of a section its cable, of a fuse or busbar the asset it stands in, else the column.
[[nodiscard]] PlaceRecord record_of(const checks::ReviewInput& input, const Place& place);

/// Reports suspect-termination, of the first suspect of each way with two readings or more: one
/// alone says no more than reading-high does.
void report(const checks::ReviewInput& input, const std::vector<Suspect>& suspects,
            base::FindingSink& findings);

} // namespace loopwalk::suspects
