// Columns off a distributor's main without a cable on record: each hangs on the nearest main.
#pragma once

#include "loopwalk/outage/outage.hpp"

#include <map>
#include <set>

namespace loopwalk::outage {

/// Mains of the named columns that have no cable and are, by what is stated or lies near, fed
/// straight off a main.
[[nodiscard]] std::set<base::MainId> near_mains_of_named(const Inputs& inputs, const Seen& seen);

/// All such columns for which one of these mains is the nearest.
[[nodiscard]] std::map<ColumnId, base::MainId>
columns_by_near_main(const Inputs& inputs, const std::set<base::MainId>& mains);

} // namespace loopwalk::outage
