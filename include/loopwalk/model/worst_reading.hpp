// Of several test readings of one quantity at one asset, the one that counts.
#pragma once

#include "loopwalk/model/layers.hpp"

#include <algorithm>
#include <unordered_map>

namespace loopwalk::model {

/// By id of the asset, the largest of the newest dated readings and of those without a date
/// (method.md section 11). `value`: which quantity; rows without it do not count. Rows of other
/// layers are left out; one that names no layer counts for an asset of that id in any.
template <class Unit>
[[nodiscard]] std::unordered_map<TextId, Unit>
worst_readings(const std::vector<Reading>& rows, AssetLayer layer, Maybe<Unit> Reading::*value) {
    const auto counts = [&](const Reading& row) {
        return row.asset_id.is_valid() && (!row.has_layer || row.asset_layer == layer) &&
               (row.*value).has_value();
    };
    std::unordered_map<TextId, std::int32_t> newest;
    for (const Reading& row : rows) {
        if (counts(row)) {
            std::int32_t& day = newest[row.asset_id];
            day = std::max(day, row.taken_on);
        }
    }
    std::unordered_map<TextId, Unit> worst;
    for (const Reading& row : rows) {
        if (counts(row) && (row.taken_on == 0 || row.taken_on == newest[row.asset_id])) {
            const auto [entry, is_first] = worst.emplace(row.asset_id, *(row.*value));
            entry->second = is_first ? entry->second : std::max(entry->second, *(row.*value));
        }
    }
    return worst;
}

} // namespace loopwalk::model
