// Two results of `check` side by side: what came, went, is fed anew, is judged anew, has moved.
#pragma once

#include "loopwalk/base/finding.hpp"
#include "loopwalk/base/point.hpp"
#include "loopwalk/base/progress.hpp"
#include "loopwalk/gis/crs.hpp"
#include "loopwalk/gis/dataset.hpp"
#include "loopwalk/gis/output.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loopwalk::compare {

/// In what two results differ at an asset.
enum class Kind : std::uint8_t {
    lost,
    verdict_changed,
    margin_changed, ///< of a column whose verdict is the same
    re_fed,
    moved,
    added,
    finding_new,
    finding_changed, ///< the same one, more or less severe
    finding_gone,
};
/// "lost", "verdict changed", "margin changed", "re-fed", "moved", "added", "new finding", "finding
/// changed", "finding gone"
[[nodiscard]] std::string_view kind_name(Kind kind) noexcept;

/// One thing that differs at one asset. An asset may have several.
struct Change {
    Kind kind{};               ///< in what it differs
    base::AssetLayer layer{};  ///< of the asset
    std::string asset_id;      ///< its `lw_id`
    std::string before, after; ///< verdicts, feeds, margins, or "danger slow-way"; empty: nothing
    std::optional<double> moved_m; ///< metres; of `moved` alone
    std::string why;               ///< the newer result's lw_why; of findings their message
    /// Lost, not traced any more, a worse verdict, a smaller margin, a finding more severe than a
    /// note that is new or has become more severe.
    bool is_worse = false;
    std::optional<base::Point2> place; ///< in Comparison::crs: the newer one where there is one
};

/// How many assets each result has.
struct LayerCount {
    base::AssetLayer layer{};          ///< columns, cables or supplies
    std::size_t before = 0, after = 0; ///< in the older and in the newer result
};

/// What counts as a difference.
struct Tolerances {
    double moved_m = 0.1;    ///< metres: what moved by no more has not moved; >= 0
    double margin_pct = 5.0; ///< of the larger: margins this near to each other are the same; >= 0
};

/// Everything in which the newer of two results differs.
struct Comparison {
    std::vector<Change> changes;    ///< what is worse first, then by kind, layer and id
    std::vector<LayerCount> layers; ///< of the three layers that are compared
    std::optional<std::pair<std::size_t, std::size_t>>
        findings; ///< before, after; none: not in both
    gis::Crs crs; ///< projected, metres; that of the newer result's columns where it is one
    /// Changes of a kind in a layer.
    [[nodiscard]] std::size_t count(base::AssetLayer layer, Kind kind) const;
    /// In all layers.
    [[nodiscard]] std::size_t count(Kind kind) const;
};

/// Reads both results (datasets with the layers that `check` writes; assets are told apart by
/// lw_id). Findings are compared where both results have that layer: two with the same rule, asset,
/// supply and way are the same. Throws InputError where one is no result of `check`.
[[nodiscard]] Comparison compare(gis::Dataset& before, gis::Dataset& after,
                                 const Tolerances& tolerances, base::Progress& progress);

/// Counts, and what is worse, for people.
[[nodiscard]] std::string comparison_text(const Comparison& comparison, const std::string& before,
                                          const std::string& after);
/// Counts and every change: one JSON object (RFC 8259, UTF-8).
[[nodiscard]] std::string comparison_json(const Comparison& comparison, const std::string& before,
                                          const std::string& after);
/// Every change as a point layer `changes`; the caller finishes the dataset.
void write_changes(const Comparison& comparison, gis::OutputDataset& out);

} // namespace loopwalk::compare
