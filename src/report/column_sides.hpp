// The parts of a column's page that judge: its two sides, its cut-out's breaking capacity, what
// was read at it and what would settle it.
#pragma once

#include "parts.hpp"

namespace loopwalk::report {

/// Whose it is, what feeds it, what to read there: before any figure.
void write_door(Context& c, base::ColumnId id, const protection::Judgement& judgement);

void write_incoming(Context& c, base::ColumnId id, const protection::Judgement& judgement,
                    const Loop& loop);
void write_outgoing(Context& c, base::ColumnId id, const protection::Judgement& judgement,
                    const Loop& loop);
/// The earth path against the heat of a fault at the column; nothing where that is not judged.
void write_heat(Context& c, base::ColumnId id, const protection::Judgement& judgement);
void write_breaking(Context& c, base::ColumnId id, const protection::Judgement& judgement);
void write_readings(Context& c, base::ColumnId id, const impedance::Source& source,
                    const TrailOhms& ohms, const protection::Judgement& judgement);
void write_settling(Context& c, base::ColumnId id, const protection::Judgement& judgement,
                    const Loop& loop);

} // namespace loopwalk::report
