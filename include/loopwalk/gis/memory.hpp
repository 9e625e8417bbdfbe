// Libraries that run out of memory may go on with a value less. Here it is told.
#pragma once

namespace loopwalk::gis {

/// Throws std::bad_alloc if GDAL, PROJ, GEOS, SQLite or this program has been refused memory in
/// this process since the first dataset: what was read or written since may lack values. Call it
/// before anything is published or shown.
void check_memory();

} // namespace loopwalk::gis
