// A finding about a device, at the asset that holds it.
#pragma once

#include "loopwalk/checks/review.hpp"

namespace loopwalk::checks {

/// At the supply with its way, at the joint or at the column; supply and way of its source.
[[nodiscard]] base::Finding device_finding(const ReviewInput& input, const Explainer& explain,
                                           const Judge& judge, DeviceId id);

} // namespace loopwalk::checks
