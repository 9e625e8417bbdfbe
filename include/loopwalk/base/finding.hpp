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
inline constexpr std::size_t kAssetLayerCount = 9;

[[nodiscard]] std::string_view severity_name(Severity s) noexcept;    // "danger"
[[nodiscard]] std::string_view layer_name(AssetLayer layer) noexcept; // "columns"
[[nodiscard]] std::optional<AssetLayer> layer_of(std::string_view name) noexcept;

/// An asset that a finding is about besides the one at which it stands.
struct Concern {
    AssetLayer layer{};
    std::uint32_t index = 0; ///< in the records of its layer; of ways: of the network's ways
    friend auto operator<=>(const Concern&, const Concern&) = default;
};

/// One row of the findings layer. Texts are for people; units stand in `unit`.
struct Finding {
    Rule rule{};
    Severity severity{};
    AssetLayer layer{};
    std::string asset_id;
    std::optional<Point2> place; ///< in the working coordinate system; none if there is no place
    std::string supply_id;       ///< empty = null, likewise `way`
    std::string way;
    std::optional<double> value;
    std::optional<double> limit;
    std::string unit;
    std::optional<std::int64_t> count;
    std::string message;           ///< what was found, in one sentence
    std::string clause;            ///< where the limit comes from; empty if none
    std::string fix;               ///< candidate cure, subject to test and consent; empty if none
    std::vector<Concern> concerns; ///< those that a reader of their page must know of it, too
};

/// Whether what a finding says is so, or cannot be ruled out from the records: then it is a warning
/// that keeps the name of the rule and names what would settle it.
enum class Certainty : std::uint8_t { certain, possible };
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

class FindingSink {
  public:
    FindingSink() = default;
    FindingSink(const FindingSink&) = delete;
    FindingSink& operator=(const FindingSink&) = delete;
    virtual ~FindingSink() = default;
    virtual void add(Finding finding) = 0;
};

/// Keeps findings in memory; sorted() gives them in the order of the output
/// (severity, rule, asset layer, asset id, place), which no input order can change.
class FindingList final : public FindingSink {
  public:
    /// A unit without a number says nothing: it is dropped.
    void add(Finding finding) override;
    void sort();
    [[nodiscard]] const std::vector<Finding>& all() const noexcept { return m_findings; }

  private:
    std::vector<Finding> m_findings;
};

} // namespace loopwalk::base
