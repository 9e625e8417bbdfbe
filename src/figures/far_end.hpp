// Currents at the end of a path that heat and breaking capacity are judged by.
#pragma once

#include "loopwalk/figures/figures.hpp"
#include "loopwalk/solution/path.hpp"

namespace loopwalk::figures {

using impedance::Source;
using solution::Path;

enum class ThreePhase : bool { no, yes };

/// Method.md section 4: cold, with the source at its strongest.
[[nodiscard]] LargestCurrents largest_currents(const Path& path, const Source& source,
                                               ThreePhase phases, double cmax);

/// What the heat of a section is judged by, at its far end.
void fill_for_heat(SectionFigures& section, const Path& path, const Source& source,
                   ThreePhase phases, double cmax);

} // namespace loopwalk::figures
