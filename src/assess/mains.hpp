// The distributor's mains as a network of their own: what lies between a substation and each
// service, pillar and cable end that hangs on them (docs/method.md, "Modelled sources").
#pragma once

#include "loopwalk/assess/inputs.hpp"
#include "loopwalk/assess/source.hpp"

#include <optional>
#include <vector>

namespace loopwalk::assess {

struct MainsSources {
    std::vector<std::optional<Source>> of_supply; ///< by supply; nothing: not on a modelled main
    std::vector<std::optional<Source>> of_root;   ///< by root; only of ends on a main
};

/// Traces the lines of `mains` from every substation with a transformer on record. Lines join where
/// their ends meet or lie on one another, by the rules of snapping; services, pillars and cable
/// ends within `snap_m` of a line hang on it. What several substations feed together is not
/// modelled. Empty vectors if there is no such substation.
[[nodiscard]] MainsSources model_mains(const Inputs& inputs);

} // namespace loopwalk::assess
