// Text forms of the findings' enumerations.
#include "loopwalk/base/finding.hpp"
#include "loopwalk/base/text.hpp"

namespace loopwalk::base {

// One line for each rule, as long as there are rules.
std::string_view rule_name(Rule rule) noexcept { // NOLINT(readability-function-size)
    switch (rule) {
    case Rule::not_traced:
        return "not-traced";
    case Rule::fed_twice:
        return "fed-twice";
    case Rule::supplies_joined:
        return "supplies-joined";
    case Rule::phases_joined:
        return "phases-joined";
    case Rule::two_phases_in_column:
        return "two-phases-in-column";
    case Rule::loose_end:
        return "loose-end";
    case Rule::near_miss:
        return "near-miss";
    case Rule::tee_assumed:
        return "tee-assumed";
    case Rule::cut_assumed:
        return "cut-assumed";
    case Rule::ambiguous_snap:
        return "ambiguous-snap";
    case Rule::ring:
        return "ring";
    case Rule::duplicate_id:
        return "duplicate-id";
    case Rule::duplicate_geometry:
        return "duplicate-geometry";
    case Rule::column_beside_column:
        return "column-beside-column";
    case Rule::zero_length:
        return "zero-length";
    case Rule::bad_geometry:
        return "bad-geometry";
    case Rule::bad_value:
        return "bad-value";
    case Rule::outlier_place:
        return "outlier-place";
    case Rule::length_differs:
        return "length-differs";
    case Rule::circuit_differs:
        return "circuit-differs";
    case Rule::type_unknown:
        return "type-unknown";
    case Rule::fuse_unknown:
        return "fuse-unknown";
    case Rule::way_without_cable:
        return "way-without-cable";
    case Rule::slow_way:
        return "slow-way";
    case Rule::slow_cut_out:
        return "slow-cut-out";
    case Rule::thin_margin:
        return "thin-margin";
    case Rule::breaking_capacity:
        return "breaking-capacity";
    case Rule::earth_path_heat:
        return "earth-path-heat";
    case Rule::conductor_heat:
        return "conductor-heat";
    case Rule::volt_drop:
        return "volt-drop";
    case Rule::overload:
        return "overload";
    case Rule::cable_unprotected:
        return "cable-unprotected";
    case Rule::no_discrimination:
        return "no-discrimination";
    case Rule::main_fuse_only:
        return "main-fuse-only";
    case Rule::breaker_in_column:
        return "breaker-in-column";
    case Rule::fuse_in_neutral:
        return "fuse-in-neutral";
    case Rule::no_rcd:
        return "no-rcd";
    case Rule::earths_joined:
        return "earths-joined";
    case Rule::pen_in_installation:
        return "pen-in-installation";
    case Rule::neutral_earth_exposure:
        return "neutral-earth-exposure";
    case Rule::earth_exposure:
        return "earth-exposure";
    case Rule::earths_within_reach:
        return "earths-within-reach";
    case Rule::load_point_over:
        return "load-point-over";
    case Rule::way_load_over:
        return "way-load-over";
    case Rule::ev_on_pme:
        return "ev-on-pme";
    case Rule::reading_over_limit:
        return "reading-over-limit";
    case Rule::reading_high:
        return "reading-high";
    case Rule::reading_low:
        return "reading-low";
    }
    return "";
}

std::string_view severity_name(Severity s) noexcept {
    switch (s) {
    case Severity::danger:
        return "danger";
    case Severity::fail:
        return "fail";
    case Severity::warning:
        return "warning";
    case Severity::note:
        return "note";
    }
    return "";
}

std::string_view layer_name(AssetLayer layer) noexcept {
    switch (layer) {
    case AssetLayer::columns:
        return "columns";
    case AssetLayer::cables:
        return "cables";
    case AssetLayer::supplies:
        return "supplies";
    case AssetLayer::ways:
        return "ways";
    case AssetLayer::joints:
        return "joints";
    case AssetLayer::mains:
        return "mains";
    case AssetLayer::terminations:
        return "terminations";
    case AssetLayer::loads:
        return "loads";
    case AssetLayer::readings:
        return "readings";
    }
    return "";
}

std::optional<AssetLayer> layer_of(std::string_view name) noexcept {
    for (std::size_t i = 0; i < kAssetLayerCount; ++i)
        if (const auto layer = static_cast<AssetLayer>(i); same_word(layer_name(layer), name))
            return layer;
    return std::nullopt;
}

} // namespace loopwalk::base
