// Findings about the records as such. Everything here works on canonical order, so findings do not
// depend on the order of the file.
#pragma once

#include "read/context.hpp"
#include <functional>

namespace loopwalk::input {

/// How findings name and place the assets of a layer, by canonical position.
struct Assets {
    base::AssetLayer layer{};
    std::size_t count = 0;
    std::function<std::string(std::size_t)> id;
    std::function<std::optional<base::Point2>(std::size_t)> place;
    std::function<void(std::size_t, std::vector<base::Point2>&)> ends; ///< appends; may be null
};
[[nodiscard]] Assets assets_of(Context& context, base::AssetLayer layer);

/// A finding (severity warning) at an asset, without figures.
[[nodiscard]] base::Finding finding_at(const Assets& assets, std::size_t position, base::Rule rule,
                                       std::string message, std::string fix);

/// "column C1", "row A/B of ways": how messages speak of an asset.
[[nodiscard]] std::string asset_name(const Assets& assets, std::size_t position);
/// In quotes, shortened if long.
[[nodiscard]] std::string quoted(std::string_view text);

/// duplicate-geometry of one of `count` assets that are drawn alike; `other` is the id of another.
void report_same_place(Context& context, const Assets& assets, std::size_t position,
                       const std::string& other, std::int64_t count);

void report_issues(Context& context, const Assets& assets);       ///< bad-value, bad-geometry ...
void report_repeated_ids(Context& context, const Assets& assets); ///< duplicate-id
void report_unknown_types(Context& context, base::AssetLayer layer); ///< type-, fuse-unknown
/// duplicate-geometry, column-beside-column and outlier-place of a layer of points.
void report_places(Context& context, const Assets& assets);
void report_equal_cables(Context& context, const Assets& assets); ///< duplicate-geometry
void report_lengths(Context& context, const Assets& assets);      ///< length-differs

} // namespace loopwalk::input
