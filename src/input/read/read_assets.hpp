// Reading one layer each: rows into the model, canonical order, faults into the layer's record.
// An absent layer is left alone.
#pragma once

#include "context.hpp"

namespace loopwalk::input {

void read_columns(Context& context);
void read_cables(Context& context);
void read_supplies(Context& context);
void read_joints(Context& context);
void read_mains(Context& context);
void read_ways(Context& context);
void read_terminations(Context& context);
void read_loads(Context& context);
void read_readings(Context& context);

/// Rows that name an asset which is not there: an Issue each. All layers have been read.
void check_references(Context& context);

/// Readings of supplies join their supply; those of electrodes take the place of a record that is
/// lower or blank. All layers have been read.
void use_readings(Context& context);

} // namespace loopwalk::input
