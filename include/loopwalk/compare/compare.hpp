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

/// In what two results differ at an asset; the worst first.
enum class Kind : std::uint8_t { lost, verdict_changed, re_fed, moved, added };
inline constexpr std::size_t kKindCount = 5; ///< how many kinds there are
/// "lost", "verdict changed", "re-fed", "moved", "added"
[[nodiscard]] std::string_view kind_name(Kind kind) noexcept;

/// One thing that differs at one asset. An asset may have several.
struct Change {
    Kind kind{};                       ///< in what it differs
    base::AssetLayer layer{};          ///< of the asset
    std::string asset_id;              ///< its `lw_id`
    std::string before, after;         ///< verdicts or feeds; empty where nothing stood
    std::optional<double> moved_m;     ///< metres; of `moved` alone
    std::string why;                   ///< the newer result's lw_why
    bool is_worse = false;             ///< lost, not traced any more, or a worse verdict
    std::optional<base::Point2> place; ///< in Comparison::crs: the newer one where there is one
};

/// How many assets each result has.
struct LayerCount {
    base::AssetLayer layer{};          ///< columns, cables or supplies
    std::size_t before = 0, after = 0; ///< in the older and in the newer result
};

/// Everything in which the newer of two results differs.
struct Comparison {
    std::vector<Change> changes;    ///< what is worse first, then by kind, layer and id
    std::vector<LayerCount> layers; ///< of the three layers that are compared
    gis::Crs crs; ///< projected, metres; that of the newer result's columns where it is one
    /// Changes of a kind in a layer.
    [[nodiscard]] std::size_t count(base::AssetLayer layer, Kind kind) const;
};

/// Reads both results (datasets with the layers that `check` writes; assets are told apart by
/// lw_id). What moved by no more than `moved_m` metres has not moved. Throws InputError where one
/// is no result of `check`.
[[nodiscard]] Comparison compare(gis::Dataset& before, gis::Dataset& after, double moved_m,
                                 base::Progress& progress);

/// Counts, and what is worse, for people.
[[nodiscard]] std::string comparison_text(const Comparison& comparison, const std::string& before,
                                          const std::string& after);
/// Counts and every change: one JSON object (RFC 8259, UTF-8).
[[nodiscard]] std::string comparison_json(const Comparison& comparison, const std::string& before,
                                          const std::string& after);
/// Every change as a point layer `changes`; the caller finishes the dataset.
void write_changes(const Comparison& comparison, gis::OutputDataset& out);

} // namespace loopwalk::compare
