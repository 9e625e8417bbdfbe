// A fault or a remark about one asset: what the program has to say besides figures.
// Stages hand findings to a FindingSink; they never print or decide what is shown.
#pragma once

#include "loopwalk/base/point.hpp"
#include "loopwalk/base/quantity.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loopwalk::base {

/// Rules of the findings layer; rule_name() gives the text form, docs/findings.md the meaning.
enum class Rule : std::uint8_t {
    not_traced,
    fed_twice,
    supplies_joined,
    phases_joined,
    two_phases_in_column,
    loose_end,
    near_miss,
    tee_assumed,
    cut_assumed,
    ambiguous_snap,
    ring,
    duplicate_id,
    duplicate_geometry,
    column_beside_column,
    zero_length,
    bad_geometry,
    bad_value,
    outlier_place,
    length_differs,
    circuit_differs,
    type_unknown,
    fuse_unknown,
    way_without_cable,
    slow_way,
    slow_cut_out,
    thin_margin,
    breaking_capacity,
    earth_path_heat,
    conductor_heat,
    volt_drop,
    overload,
    cable_unprotected,
    no_discrimination,
    main_fuse_only,
    breaker_in_column,
    fuse_in_neutral,
    no_rcd,
    earths_joined,
    pen_in_installation,
    neutral_earth_exposure,
    earth_exposure,
    earths_within_reach,
    load_point_over,
    way_load_over,
    ev_on_pme,
    reading_over_limit,
    reading_high,
    reading_low,
};

enum class Severity : std::uint8_t { danger, fail, warning, note };

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

[[nodiscard]] std::string_view rule_name(Rule rule) noexcept;         // "not-traced"
[[nodiscard]] std::string_view severity_name(Severity s) noexcept;    // "danger"
[[nodiscard]] std::string_view layer_name(AssetLayer layer) noexcept; // "columns"
[[nodiscard]] std::optional<AssetLayer> layer_of(std::string_view name) noexcept;

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
    std::string message; ///< what was found, in one sentence
    std::string clause;  ///< where the limit comes from; empty if none
    std::string fix;     ///< candidate cure, subject to test and consent; empty if none
};

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
    void add(Finding finding) override { m_findings.push_back(std::move(finding)); }
    void sort();
    [[nodiscard]] const std::vector<Finding>& all() const noexcept { return m_findings; }

  private:
    std::vector<Finding> m_findings;
};

} // namespace loopwalk::base
