// The findings of a result of `check`, as far as two results can be told apart by them.
#pragma once

#include "loopwalk/base/finding.hpp"
#include "loopwalk/base/progress.hpp"
#include "loopwalk/gis/crs.hpp"
#include "loopwalk/gis/dataset.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace loopwalk::compare {

/// What a finding is about: two of one key are the same finding in two results.
struct FindingKey {
    std::string rule;
    base::AssetLayer layer{};
    std::string asset_id, supply_id, way;
    friend auto operator<=>(const FindingKey&, const FindingKey&) = default;
};

struct FindingRead {
    base::Severity severity{};
    std::string message;
    std::optional<base::Point2> place; ///< in ResultFindings::crs
};

struct ResultFindings {
    gis::Crs crs;
    /// Of each key the most severe first; a key may have several (two loads of one column).
    std::map<FindingKey, std::vector<FindingRead>> by_key;
    std::size_t count = 0;
};

/// Nothing where the result has no layer of findings, or one without their fields. Throws
/// InputError where the layer cannot be read.
[[nodiscard]] std::optional<ResultFindings> read_findings(gis::Dataset& dataset,
                                                          base::Progress& progress);

} // namespace loopwalk::compare
