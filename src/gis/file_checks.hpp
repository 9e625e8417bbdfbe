// Looks at files themselves where a driver would wait for ever or read what is left of a damaged
// file as if it were whole. For this folder only.
#pragma once

#include <string>

namespace loopwalk::gis {

/// What stands at a path, or beside it under the same name but for the ending, or in the folder,
/// is a file or a folder, not a pipe or a device: reading those may never end. The words name the
/// path; empty if all is well or nothing is there.
[[nodiscard]] std::string fault_of_kind(const std::string& path);

/// What tells that a file of text (CSV, GeoJSON, GML ...) or a dBase table (.dbf, and .dat of
/// MapInfo) is damaged or cut off, by its ending; empty if nothing does.
[[nodiscard]] std::string fault_in_file(const std::string& path);

} // namespace loopwalk::gis
