#include "loopwalk/config/contract_fields.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <array>
#include <string_view>

namespace loopwalk::config {

namespace {

using base::AssetLayer;

/// "3:2000".
Usual usual_range(std::string_view text) {
    const std::size_t colon = text.find(':');
    const auto low = base::parse_number(text.substr(0, colon));
    const auto high = base::parse_number(text.substr(std::min(colon, text.size() - 1) + 1));
    LW_ASSERT(low && high && *low < *high);
    return {*low, *high};
}

/// "column_id* kind load_w#3:2000": a star marks a needed field, a hash one that holds a number,
/// with the range of nearly all.
std::vector<FieldRule> parse_rules(std::string_view list) {
    std::vector<FieldRule> rules;
    while (!list.empty()) {
        std::string_view word = list.substr(0, list.find(' '));
        list.remove_prefix(std::min(list.size(), word.size() + 1));
        FieldRule rule;
        if (const std::size_t hash = word.find('#'); hash != std::string_view::npos) {
            rule.is_number = true;
            rule.usual = usual_range(word.substr(hash + 1));
            word = word.substr(0, hash);
        }
        rule.needed = word.back() == '*';
        if (rule.needed) {
            word.remove_suffix(1);
        }
        rule.name = word;
        rules.push_back(std::move(rule));
    }
    return rules;
}

// A table: one row for each field.
// NOLINTNEXTLINE(readability-function-size)
std::string_view field_list(AssetLayer layer) {
    switch (layer) {
    case AssetLayer::columns:
        return "column_id* "
               "kind "
               "road "
               "area "
               "owner "
               "feed "
               "circuit "
               "phase "
               "control "
               "load_w#3:2000 "
               "power_factor#0.3:1 "
               "fuse_type "
               "fuse_a#1:1250 "
               "fuse_breaking_ka#1:120 "
               "poles "
               "rcd_ma#5:1000 "
               "limit_s#0.04:10 "
               "tail_type "
               "tail_m#0.5:30 "
               "height_m#2:16 "
               "earthing "
               "electrode_ohm#0.1:2000 "
               "status";
    case AssetLayer::cables:
        return "cable_id* "
               "cable_type "
               "circuit "
               "length_m#0.3:1500 "
               "owner "
               "control "
               "status";
    case AssetLayer::supplies:
        return "supply_id* "
               "kind "
               "earthing "
               "ze_ohm#0.01:30 "
               "ze_r_ohm#0.002:10 "
               "ze_x_ohm#0.002:10 "
               "ze_basis "
               "pscc_ka#0.05:80 "
               "pscc3_ka#0.05:80 "
               "pscc_basis "
               "voltage_v#100:280 "
               "phases#1:3 "
               "fuse_type "
               "fuse_a#1:1250 "
               "rcd_ma#5:1000 "
               "electrode_ohm#0.1:2000 "
               "transformer_kva#5:3000 "
               "transformer_z_pct#1:12 "
               "transformer_r_pct#0.2:6 "
               "status";
    case AssetLayer::ways:
        return "supply_id* "
               "way* "
               "circuit "
               "phase "
               "control "
               "fuse_type "
               "fuse_a#1:1250 "
               "rcd_ma#5:1000 "
               "limit_s#0.04:10";
    case AssetLayer::joints:
        return "joint_id* "
               "kind "
               "fuse_type "
               "fuse_a#1:1250";
    case AssetLayer::mains:
        return "main_id* "
               "cable_type "
               "length_m#0.3:1500 "
               "customers#1:3000";
    case AssetLayer::terminations:
        return "asset_id* "
               "cable_id* "
               "asset_layer "
               "state "
               "side "
               "earth";
    case AssetLayer::loads:
        return "column_id* "
               "use "
               "load_w#3:2000 "
               "power_factor#0.3:1 "
               "fuse_type "
               "fuse_a#1:1250 "
               "phase "
               "rcd_ma#5:1000 "
               "limit_s#0.04:10";
    case AssetLayer::readings:
        return "asset_id* "
               "asset_layer "
               "taken_on "
               "taken_at "
               "zs_ohm#0.02:300 "
               "ra_ohm#0.1:2000 "
               "pscc_ka#0.05:80 "
               "conductor_c#-25:110 "
               "method";
    }
    return {};
}

} // namespace

const std::vector<FieldRule>& contract_fields(AssetLayer layer) {
    static const auto rules = [] {
        std::array<std::vector<FieldRule>, base::kAssetLayerCount> all;
        for (std::size_t i = 0; i < all.size(); ++i) {
            all[i] = parse_rules(field_list(static_cast<AssetLayer>(i)));
        }
        return all;
    }();
    return rules[static_cast<std::size_t>(layer)];
}

} // namespace loopwalk::config
