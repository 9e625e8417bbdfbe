// A fault or a remark about one asset: what the program has to say besides figures.
// Stages hand findings to a FindingSink; they never print or decide what is shown.
#pragma once

#include "loopwalk/base/point.hpp"
#include "loopwalk/base/quantity.hpp"
#include "loopwalk/base/rules.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loopwalk::base {

/// Layers of the records, in the order of docs/data_model.md; values index arrays of that size.
enum class AssetLayer : std::uint8_t {
    columns,
    cables,
    supplies,
    ways,
    joints,
    mains,
    terminations,
    loads,
    readings,
};
inline constexpr std::size_t kAssetLayerCount = 9; ///< how many layers the records can have

/// "danger", as written to the findings layer.
[[nodiscard]] std::string_view severity_name(Severity s) noexcept;
/// "columns", the native name of the layer.
[[nodiscard]] std::string_view layer_name(AssetLayer layer) noexcept;
/// The layer of that name, compared without case; none if no layer is called so.
[[nodiscard]] std::optional<AssetLayer> layer_of(std::string_view name) noexcept;

/// An asset that a finding is about besides the one at which it stands.
struct Concern {
    AssetLayer layer{};      ///< of the asset
    std::uint32_t index = 0; ///< in the records of its layer; of ways: of the network's ways
    friend auto operator<=>(const Concern&, const Concern&) = default;
};

/// One row of the findings layer. Texts are for people; units stand in `unit`.
struct Finding {
    Rule rule{};                 ///< names severity, unit and clause: base::row_of()
    Severity severity{};         ///< of this finding; a warning where it is only possible
    AssetLayer layer{};          ///< of the asset at which it stands
    std::string asset_id;        ///< the id used for the asset in all layers (`lw_id`)
    std::optional<Point2> place; ///< in the working coordinate system; none if there is no place
    std::string supply_id;       ///< empty = null, likewise `way`
    std::string way;             ///< empty = null
    std::optional<double> value; ///< what was found, in `unit`; none if it is no number
    std::optional<double> limit; ///< what it is held against, in `unit`; none if there is no limit
    std::string unit;            ///< of value and limit; empty if they have none
    std::optional<std::int64_t> count; ///< how many assets it is about; none if that says nothing
    std::string message;               ///< what was found, in one sentence
    std::string clause;                ///< where the limit comes from; empty if none
    std::string fix;               ///< candidate cure, subject to test and consent; empty if none
    std::vector<Concern> concerns; ///< those that a reader of their page must know of it, too
};

/// Whether what a finding says is so, or cannot be ruled out from the records: then it is a warning
/// that keeps the name of the rule and names what would settle it.
enum class Certainty : std::uint8_t { certain, possible };
/// From a condition to the word.
[[nodiscard]] constexpr Certainty certain_if(bool is_certain) noexcept {
    return is_certain ? Certainty::certain : Certainty::possible;
}

/// A finding with what the table of rules knows of it: severity, unit and clause.
[[nodiscard]] Finding finding_of(Rule rule, Certainty certainty = Certainty::certain);

/// Adds "It would be settled by ..." to the message; nothing if `what` is empty.
void settle(Finding& finding, std::string_view what);

/// Columns that a finding is also about.
template <class Columns>
void add_concerns(Finding& finding, const Columns& columns) {
    for (const auto id : columns) {
        finding.concerns.push_back({AssetLayer::columns, static_cast<std::uint32_t>(id.index())});
    }
}

/// Takes findings as they are made. Not for several threads.
class FindingSink {
  public:
    FindingSink() = default;
    FindingSink(const FindingSink&) = delete;
    FindingSink& operator=(const FindingSink&) = delete;
    virtual ~FindingSink() = default;
    /// Order means nothing: whoever writes them sorts.
    virtual void add(Finding finding) = 0;
};

/// Keeps findings in memory; sorted() gives them in the order of the output
/// (severity, rule, asset layer, asset id, place), which no input order can change.
class FindingList final : public FindingSink {
  public:
    /// A unit without a number says nothing: it is dropped.
    void add(Finding finding) override;
    /// Brings them into the order of the output.
    void sort();
    /// In the order of adding, or of the output after sort().
    [[nodiscard]] const std::vector<Finding>& all() const noexcept { return m_findings; }

  private:
    std::vector<Finding> m_findings;
};

} // namespace loopwalk::base
