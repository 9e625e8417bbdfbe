// Who was refused memory. For this folder only; see loopwalk/gis/memory.hpp.
#pragma once

#include <cpl_error.h>

namespace loopwalk::gis {

/// Notes that memory was refused. Safe anywhere.
void note_memory_refused() noexcept;
/// GDAL ends the process after a fatal error, which is always one of memory: with our status and a
/// message instead of a core dump.
void end_if_fatal(CPLErr level) noexcept;
/// Has SQLite and whatever is written in C++ (GDAL, PROJ, GEOS, this program) tell of refusals.
/// Before the first call of SQLite, also by GDAL and PROJ.
void watch_memory() noexcept;

} // namespace loopwalk::gis
