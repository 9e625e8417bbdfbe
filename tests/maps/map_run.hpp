// Runs a drawn case through the program and compares.
#pragma once

#include "map_case.hpp"
#include <string>
#include <vector>

namespace loopwalk::maps {

/// How the records are written: as they stand in the case, or the rows of every table from last to
/// first and every line drawn from its other end. Neither may change any result.
enum class Order { as_written, reversed };

/// Writes the case's records (planar metres, no coordinate system) and job into `folder`, runs the
/// main job on it and returns the path of the result.
[[nodiscard]] std::string run_case(const MapCase& map, const std::string& folder, Order order);

/// One sentence for each value that is not as expected; empty: all well.
[[nodiscard]] std::vector<std::string> differences(const MapCase& map, const std::string& result);

} // namespace loopwalk::maps
