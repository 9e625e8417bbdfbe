// The readings of a way with their predictions, and the places on their paths.
#pragma once

#include "loopwalk/suspects/suspects.hpp"

#include <map>
#include <vector>

namespace loopwalk::suspects {

using base::ColumnId;
using base::InfeedId;
using base::Ohm;

/// Readings of one way that count here.
struct WayReadings {
    std::vector<Excess> excesses;
    std::vector<ColumnId> columns; ///< by reading: where
    bool is_any_high = false;      ///< above all that the records allow
};

/// Whether its path is one line and a reading of it can be predicted.
[[nodiscard]] bool is_predicted(const checks::ReviewInput& in, const protection::Judge& judge,
                                ColumnId id);
/// By way, those with a reading.
[[nodiscard]] std::map<InfeedId, WayReadings> readings_by_way(const checks::ReviewInput& in,
                                                              const protection::Judge& judge);
/// From the column's inside to its way.
[[nodiscard]] std::vector<Place> places_before(const checks::ReviewInput& in, ColumnId id);

/// Error bounds as a standard deviation: all values between them as likely (JCGM 100, 4.3.7).
[[nodiscard]] double sigma_of(double half_width);

} // namespace loopwalk::suspects
