// Who was refused memory. For this folder only; see loopwalk/gis/memory.hpp.
#pragma once

namespace loopwalk::gis {

/// Notes that memory was refused. Safe anywhere.
void note_memory_refused() noexcept;
/// Has SQLite tell of refusals. Before the first call of SQLite, also by GDAL and PROJ.
void watch_sqlite_memory() noexcept;

} // namespace loopwalk::gis
