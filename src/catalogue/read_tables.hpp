// The catalogue's files as checked rows. Reading one file is one function; parse_catalogue() puts
// them together.
#pragma once

#include "loopwalk/catalogue/catalogue.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace loopwalk::catalogue {

[[nodiscard]] std::vector<CableType> read_cables(std::string_view text, const std::string& file);

/// Device types in the order in which they first appear, their ratings ascending, without curves.
/// What a row leaves blank of kind, gg, current_limiting, holder and overload_factor it has from
/// the type (and rating) of that name among `known`, if there is one.
[[nodiscard]] std::vector<FuseType> read_devices(std::string_view text, const std::string& file,
                                                 const std::vector<FuseType>& known = {});

/// What to do with the curve of a device that the devices' file does not list.
enum class StrayCurve : bool { is_error, is_unused };

/// Gives the ratings the points of the slow and fast edges that belong to them, sorted and checked;
/// an edge that had points has the new ones alone.
void read_curves(std::string_view text, const std::string& file, StrayCurve stray,
                 std::vector<FuseType>& fuses);

} // namespace loopwalk::catalogue
