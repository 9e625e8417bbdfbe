#include "loopwalk/protection/readings.hpp"

#include "loopwalk/model/worst_reading.hpp"

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
    : m_layers(layers), m_rules(rules),
      m_largest_ka(
          model::worst_readings(layers.readings, AssetLayer::columns, &model::Reading::pscc_ka)) {
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

base::Maybe<Number> Readings::largest_ka(ColumnId id) const {
    const auto read = m_largest_ka.find(m_layers.columns[id.index()].id);
    return read != m_largest_ka.end() ? base::Maybe<Number>(read->second) : base::Maybe<Number>{};
}

namespace {

/// No conductor of a cable grows by more, of its ohms at 20 C for each kelvin: steel (IEC 60949).
constexpr double kPerKelvin = 0.0045;

/// What a loop grows by from the test to warm conductors, at most: below 20 C all of it is taken to
/// grow, the source's part as well.
Ohm growth(const Warming& warming, base::Celsius tested) {
    const double below = std::max(0.0, 20.0 - tested.value());
    return warming.from_20c + warming.at_20c * (kPerKelvin * below);
}

} // namespace

Ohm Readings::highest_cold(Ohm limit, const TestPath& path) const {
    const Ohm shared = limit * m_rules.reading_share;
    if (!path.warming.has_value()) {
        return shared;
    }
    const Ohm worked = limit - path.warming->from_20c;
    const bool is_predicted_above = shared < path.warming->at_20c && path.warming->at_20c <= worked;
    return is_predicted_above ? worked : std::max(Ohm(0.0), std::min(shared, worked));
}

Ohm Readings::test_error(model::TestMethod method, Ohm zs) const {
    return method == model::TestMethod::high_current
               ? zs * m_rules.test_error_high_current_share + m_rules.test_error_high_current
               : zs * m_rules.test_error_other_share + m_rules.test_error_other;
}

ReadingWeight Readings::weigh(const model::Reading& row, CutOutPart part,
                              const TestPath& path) const {
    const bool at_cut_out = row.taken_at == model::TakenAt::cut_out;
    const bool is_warm = row.conductor.has_value() && (*row.conductor).value() > kWarm;
    ReadingWeight weight{*row.zs, *row.zs, Ohm(0.0)};
    if (part == CutOutPart::incoming && !at_cut_out) {
        weight.surely = Ohm(std::max(0.0, (*row.zs - path.tail).value()));
    } else if (part == CutOutPart::beyond && at_cut_out) {
        weight.added = path.tail;
    }
    const bool is_as_predicted = // a path that reads higher is not what is on record
        path.warming.has_value() &&
        *row.zs - test_error(row.method, *row.zs) <= path.warming->at_20c;
    if (!is_warm && at_cut_out && row.conductor.has_value() && is_as_predicted) {
        weight.added = weight.added + growth(*path.warming, *row.conductor);
    } else if (!is_warm) {
        weight.share = m_rules.reading_share;
    }
    weight.warmed = (*row.zs + weight.added) / weight.share;
    return weight;
}

void Readings::apply_row(const model::Reading& row, CutOutPart part, const TestPath& path,
                         Side& side) const {
    if (!side.zs_limit.has_value() || side.is_rcd) {
        return;
    }
    const ReadingWeight weight = weigh(row, part, path);
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

void Readings::apply(ColumnId id, const TestPath& path, Side& in, Side& out) const {
    for (Side* side : {&in, &out}) {
        side->predicted = side->verdict;
        side->predicted_reason = side->reason;
        side->predicted_margin = side->margin;
    }
    for (const std::uint32_t r : of(id)) {
        apply_row(m_layers.readings[r], CutOutPart::incoming, path, in);
        apply_row(m_layers.readings[r], CutOutPart::beyond, path, out);
    }
}

} // namespace loopwalk::protection
