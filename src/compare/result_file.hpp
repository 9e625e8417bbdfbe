// What a result of `check` says of each asset.
#pragma once

#include "loopwalk/base/finding.hpp"
#include "loopwalk/base/point.hpp"
#include "loopwalk/base/progress.hpp"
#include "loopwalk/gis/crs.hpp"
#include "loopwalk/gis/dataset.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace loopwalk::compare {

struct Asset {
    std::string feed; ///< "supply/way", else the word of lw_feed; empty for supplies
    std::string verdict, why;
    std::optional<double> margin;      ///< of columns: the lesser of both sides
    std::vector<base::Polyline> lines; ///< a point is a line of one vertex
};

struct ResultLayer {
    base::AssetLayer layer{};
    gis::Crs crs;
    std::map<std::string, Asset> assets; ///< by lw_id
};

/// columns, cables and supplies, as far as the result has them. Throws InputError.
[[nodiscard]] std::vector<ResultLayer> read_result(gis::Dataset& dataset, base::Progress& progress);

} // namespace loopwalk::compare
