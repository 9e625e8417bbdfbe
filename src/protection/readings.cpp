#include "loopwalk/protection/readings.hpp"

#include <unordered_map>

namespace loopwalk::protection {

using base::AssetLayer;
using base::ColumnId;

Readings::Readings(const model::Layers& layers) : m_layers(layers) {
    std::unordered_map<base::TextId, ColumnId> ids;
    if (!layers.readings.empty()) {
        for (std::size_t c = 0; c < layers.columns.size(); ++c) {
            ids.emplace(layers.columns[c].id, ColumnId(c));
        }
    }
    for (std::uint32_t r = 0; r < layers.readings.size(); ++r) {
        const model::Reading& row = layers.readings[r];
        const auto column = ids.find(row.asset_id);
        if ((!row.has_layer || row.asset_layer == AssetLayer::columns) && column != ids.end()) {
            m_rows.add(column->second, r);
        }
    }
    m_rows.freeze();
}

/// A reading that breaks the limit makes that side fail whatever is predicted; a low one proves
/// nothing. What is over the limit at the cut-out is so at the lantern too; where the place is
/// unknown, only what no place would excuse counts.
void Readings::apply(ColumnId id, Side& in, Side& out) const {
    for (Side* side : {&in, &out}) {
        side->predicted = side->verdict;
        side->predicted_reason = side->reason;
    }
    const auto fail = [](Side& side) {
        side.is_reading_over = true;
        if (side.verdict != Verdict::fails) {
            side.verdict = Verdict::fails;
            side.reason = Reason::reading_over;
        }
    };
    for (const std::uint32_t r : of(id)) {
        const model::Reading& row = m_layers.readings[r];
        if (!row.zs.has_value()) {
            continue;
        }
        const bool over_in = in.zs_limit.has_value() && !in.is_rcd && *row.zs > *in.zs_limit;
        const bool over_out = out.zs_limit.has_value() && !out.is_rcd && *row.zs > *out.zs_limit;
        const bool at_lantern = row.taken_at == model::TakenAt::lantern;
        const bool anywhere = row.taken_at == model::TakenAt::unknown;
        if (over_in && !at_lantern && (!anywhere || over_out || !out.zs_limit.has_value())) {
            fail(in);
        }
        if (over_out) {
            fail(out);
        }
    }
}

} // namespace loopwalk::protection
