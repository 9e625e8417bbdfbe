// Dark columns for the person in the street: what to do first, and why.
#pragma once

#include "loopwalk/outage/outage.hpp"
#include "loopwalk/output/results.hpp"

#include <string>

namespace loopwalk::report {

/// Plain text, lines of at most 80 characters where ids allow. The first line is the first thing to
/// do; then what explains the columns that are out, the likeliest first, what was taken for
/// granted, and the cautions.
[[nodiscard]] std::string dark_text(const output::Results& results, const outage::Seen& seen,
                                    const outage::Diagnosis& diagnosis);

} // namespace loopwalk::report
