// Which coordinate system the run works in, and how each layer gets there.
#pragma once

#include "context.hpp"

namespace loopwalk::input {

/// The job's system, or the cables' own, or a projected one that suits them. Throws ConfigError
/// for a system of the job that is not projected in metres. Adds sentences to `assumptions`.
[[nodiscard]] Systems choose_systems(Source& source, const std::string& wanted,
                                     std::vector<std::string>& assumptions);

/// The system a layer's coordinates are in: its own, or the cables' if it states none.
[[nodiscard]] gis::Crs system_of(const Context& context, const gis::Layer& layer);
/// The same of the first part of a layer.
[[nodiscard]] gis::Crs system_of(const Context& context, base::AssetLayer layer);

/// From the coordinates of a part of a layer to working ones. A layer that states no system is
/// taken to be in the cables'; if that is unknown, coordinates stay as they are. Adds a sentence
/// for either.
[[nodiscard]] gis::Transform transform_of(Context& context, base::AssetLayer layer,
                                          std::size_t part = 0);

} // namespace loopwalk::input
