// Where an asset stands in the trace: what lies before it, what hangs on it.
#pragma once

#include "loopwalk/output/results.hpp"

#include <optional>
#include <vector>

namespace loopwalk::sheet {

/// A place on the way, and metres of cable from the source on.
struct Stop {
    base::NodeId node;
    base::Metre run;
};

/// From the source to a vertex, both included, each node once. Empty without a source.
[[nodiscard]] std::vector<Stop> stops_to(const output::Results& results, base::VertexId end);
/// What the trace reaches by way of a vertex, along the cable, the vertex's node left out.
[[nodiscard]] std::vector<Stop> stops_behind(const output::Results& results, base::VertexId start);
/// Whether a vertex lies on, or its feed passes, a closed loop, or several ways feed it: then
/// nothing is simply behind or before another.
[[nodiscard]] bool is_simple(const output::Results& results, base::VertexId vertex);
/// The first vertex behind a way: its own; behind it hang its columns.
[[nodiscard]] std::vector<base::ColumnId> columns_in(const output::Results& results,
                                                     const std::vector<Stop>& stops);

} // namespace loopwalk::sheet
