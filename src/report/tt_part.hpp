// The earth of a TT column on its page.
#pragma once

#include "loopwalk/figures/tt_earth.hpp"

#include "parts.hpp"

namespace loopwalk::report {

/// Ra + R2 as worked on the page.
struct TtTerms {
    std::optional<Term> low, high;
};

/// What is recorded of the electrodes and the earth path.
void write_tt_record(Context& c, base::ColumnId id);
/// Lines of Ra + R2; `when`: "20 C, " for a cold earth path.
[[nodiscard]] TtTerms write_tt_earth(WorkingLines& lines, const figures::TtEarthRecord& record,
                                     const std::string& when = "");

} // namespace loopwalk::report
