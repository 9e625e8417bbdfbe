// The distributor's mains as a network of their own: what lies between a substation and each
// service, pillar and cable end that hangs on them (docs/method.md, "Modelled sources").
// Records and traced network -> sources that the figures start from.
#pragma once

#include "loopwalk/figures/figures.hpp"

namespace loopwalk::mains {

/// Traces the lines of `mains` from every substation with a transformer on record. Lines join where
/// their ends meet or lie on one another, by the rules of snapping; services, pillars and cable
/// ends within `snap_m` of a line hang on it. What several substations feed together is not
/// modelled. Empty vectors if there is no such substation.
[[nodiscard]] figures::MainsSources model_mains(const figures::Inputs& inputs);

} // namespace loopwalk::mains
