#include "loopwalk/protection/readings.hpp"

#include <algorithm>
#include <map>
#include <unordered_map>

namespace loopwalk::protection {

using base::AssetLayer;
using base::ColumnId;
using base::Number;
using base::Ohm;

namespace {

/// Conductors of a test that are no warmer than this have their growth still before them (BS 7671
/// appendix 3 corrects from 10 to 30 C).
constexpr double kWarm = 30.0;

} // namespace

Readings::Readings(const model::Layers& layers, const config::Rules& rules)
    : m_layers(layers), m_rules(rules) {
    std::unordered_map<base::TextId, ColumnId> ids;
    if (!layers.readings.empty()) {
        for (std::size_t c = 0; c < layers.columns.size(); ++c) {
            ids.emplace(layers.columns[c].id, ColumnId(c));
        }
    }
    const auto column_of = [&](const model::Reading& row) {
        const auto column = ids.find(row.asset_id);
        const bool is_column = !row.has_layer || row.asset_layer == AssetLayer::columns;
        return is_column && row.zs.has_value() && column != ids.end() ? column->second : ColumnId{};
    };
    std::map<std::pair<ColumnId, model::TakenAt>, std::int32_t> newest;
    for (const model::Reading& row : layers.readings) {
        if (const ColumnId column = column_of(row); column.is_valid()) {
            std::int32_t& day = newest[{column, row.taken_at}];
            day = std::max(day, row.taken_on);
        }
    }
    for (std::uint32_t r = 0; r < layers.readings.size(); ++r) {
        const model::Reading& row = layers.readings[r];
        const ColumnId column = column_of(row);
        if (column.is_valid() &&
            (row.taken_on == 0 || row.taken_on == newest[{column, row.taken_at}])) {
            m_rows.add(column, r);
            if (m_columns.empty() || m_columns.back() != column) {
                m_columns.push_back(column);
            }
        }
    }
    m_rows.freeze();
}

ReadingWeight Readings::weigh(const model::Reading& row, CutOutPart part, Ohm tail) const {
    const bool at_cut_out = row.taken_at == model::TakenAt::cut_out;
    const bool is_warm = row.conductor.has_value() && (*row.conductor).value() > kWarm;
    ReadingWeight weight{*row.zs, *row.zs};
    if (part == CutOutPart::incoming && !at_cut_out) {
        weight.surely = Ohm(std::max(0.0, (*row.zs - tail).value()));
    } else if (part == CutOutPart::beyond && at_cut_out) {
        weight.warmed = *row.zs + tail;
    }
    if (!is_warm) {
        weight.warmed = weight.warmed / m_rules.reading_share;
    }
    return weight;
}

void Readings::apply_row(const model::Reading& row, CutOutPart part, Ohm tail, Side& side) const {
    if (!side.zs_limit.has_value() || side.is_rcd) {
        return;
    }
    const ReadingWeight weight = weigh(row, part, tail);
    if (!side.zs_by_reading.has_value() || weight.warmed > *side.zs_by_reading) {
        side.zs_by_reading = weight.warmed;
    }
    const Number margin(*side.zs_limit / weight.warmed);
    if (side.margin.has_value() && margin < *side.margin) {
        side.margin = margin;
    }
    if (weight.surely > *side.zs_limit) {
        side.is_reading_over = true;
        if (side.verdict != Verdict::fails) {
            side.verdict = Verdict::fails;
            side.reason = Reason::reading_over;
        }
    } else if (weight.warmed > *side.zs_limit && side.verdict == Verdict::meets) {
        side.verdict = Verdict::undecided;
        side.reason = Reason::reading_near;
    }
}

void Readings::apply(ColumnId id, Ohm tail, Side& in, Side& out) const {
    for (Side* side : {&in, &out}) {
        side->predicted = side->verdict;
        side->predicted_reason = side->reason;
        side->predicted_margin = side->margin;
    }
    for (const std::uint32_t r : of(id)) {
        apply_row(m_layers.readings[r], CutOutPart::incoming, tail, in);
        apply_row(m_layers.readings[r], CutOutPart::beyond, tail, out);
    }
}

} // namespace loopwalk::protection
