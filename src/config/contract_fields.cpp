#include "loopwalk/config/contract_fields.hpp"

#include <array>
#include <string_view>

namespace loopwalk::config {

namespace {

using base::AssetLayer;

/// "column_id*, kind, load_w#": a star marks a needed field, a hash one that holds a number.
std::vector<FieldRule> parse_rules(std::string_view list) {
    std::vector<FieldRule> rules;
    while (!list.empty()) {
        std::string_view word = list.substr(0, list.find(' '));
        list.remove_prefix(std::min(list.size(), word.size() + 1));
        FieldRule rule;
        rule.needed = word.back() == '*';
        rule.is_number = word.back() == '#';
        if (rule.needed || rule.is_number)
            word.remove_suffix(1);
        rule.name = word;
        rules.push_back(std::move(rule));
    }
    return rules;
}

std::string_view field_list(AssetLayer layer) {
    switch (layer) {
    case AssetLayer::columns:
        return "column_id* kind road area owner feed circuit phase control load_w# power_factor# "
               "fuse_type fuse_a# fuse_breaking_ka# poles rcd_ma# limit_s# tail_type tail_m# "
               "height_m# earthing electrode_ohm# status";
    case AssetLayer::cables:
        return "cable_id* cable_type circuit length_m# owner control status";
    case AssetLayer::supplies:
        return "supply_id* kind earthing ze_ohm# ze_r_ohm# ze_x_ohm# ze_basis pscc_ka# pscc3_ka# "
               "pscc_basis voltage_v# phases# fuse_type fuse_a# rcd_ma# electrode_ohm# "
               "transformer_kva# transformer_z_pct# transformer_r_pct# status";
    case AssetLayer::ways:
        return "supply_id* way* circuit phase control fuse_type fuse_a# rcd_ma# limit_s#";
    case AssetLayer::joints:
        return "joint_id* kind fuse_type fuse_a#";
    case AssetLayer::mains:
        return "main_id* cable_type length_m# customers#";
    case AssetLayer::terminations:
        return "asset_id* cable_id* asset_layer state side earth";
    case AssetLayer::loads:
        return "column_id* use load_w# power_factor# fuse_type fuse_a# phase rcd_ma# limit_s#";
    case AssetLayer::readings:
        return "asset_id* asset_layer taken_on taken_at zs_ohm# ra_ohm# pscc_ka# conductor_c# "
               "method";
    }
    return {};
}

} // namespace

const std::vector<FieldRule>& contract_fields(AssetLayer layer) {
    static const auto rules = [] {
        std::array<std::vector<FieldRule>, base::kAssetLayerCount> all;
        for (std::size_t i = 0; i < all.size(); ++i)
            all[i] = parse_rules(field_list(static_cast<AssetLayer>(i)));
        return all;
    }();
    return rules[static_cast<std::size_t>(layer)];
}

} // namespace loopwalk::config
