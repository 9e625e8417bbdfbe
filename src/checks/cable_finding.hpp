// A finding about a cable, with what is said of it everywhere.
#pragma once

#include "loopwalk/checks/review.hpp"

namespace loopwalk::checks {

[[nodiscard]] base::Finding cable_finding(const ReviewInput& input, base::CableId id,
                                          base::Rule rule, base::Severity severity);

/// The same about a traced section of it, with supply and way.
[[nodiscard]] base::Finding section_finding(const ReviewInput& input, const Explainer& explain,
                                            base::SectionId id, base::Rule rule,
                                            base::Severity severity);

/// Advice is given on the council's own equipment only.
[[nodiscard]] bool is_councils(const ReviewInput& input, base::SectionId id);

} // namespace loopwalk::checks
