// The streets of the town. Each adds its rows to the town, and what must be found to the key.
// README.md tells what each of them shows.
#pragma once

#include "town.hpp"

namespace town {

void build_plain_streets(Town& town);   ///< ways of being fed from a pillar, nothing wrong
void build_varied_streets(Town& town);  ///< section pillar, fused joint, signs, cables of two parts
void build_feeding_streets(Town& town); ///< direct services, mains, neighbours
void build_detail_streets(Town& town);  ///< loads, terminations, readings, states: nothing wrong
void build_record_faults(Town& town);   ///< entries that cannot be right
void build_drawing_faults(Town& town);  ///< lines that miss or meet what they should not
void build_joining_faults(Town& town);  ///< rings, joined supplies and phases
void build_figure_faults(Town& town);   ///< fuses, loads and cables that do not fit
void build_reading_faults(Town& town);  ///< test readings that disagree
void build_device_faults(Town& town);   ///< fuses, cables and earths that do not go together

} // namespace town
