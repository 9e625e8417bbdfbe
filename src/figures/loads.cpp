#include "loopwalk/figures/loads.hpp"

#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <cmath>
#include <unordered_map>

namespace loopwalk::figures {
namespace {

using base::Bounds;
using base::Maybe;
using base::Number;
using base::Watt;

/// Q = P*tan(phi) for a power factor in (0, 1], negative for a leading one.
Watt reactive(Watt real, Number power_factor) {
    const double pf = std::abs(power_factor.value());
    const double tangent = std::sqrt(std::max(0.0, 1.0 - pf * pf)) / pf;
    return real * (power_factor.value() < 0.0 ? -tangent : tangent);
}

ColumnLoad load_of(Maybe<Watt> real, Maybe<Number> power_factor, const Bounds<Watt>& missing_real,
                   const Bounds<Number>& missing_pf) {
    ColumnLoad load;
    load.real = real.has_value() ? Bounds<Watt>::exactly(*real) : missing_real;
    // Volt drop grows with tan(phi): the lower lagging power factor is the heavier burden.
    const Number light = power_factor.value_or(missing_pf.high);
    const Number heavy = power_factor.value_or(missing_pf.low);
    load.reactive = {reactive(load.real.low, light), reactive(load.real.high, heavy)};
    load.is_assumed = !real.has_value() || (!power_factor.has_value() && load.real.high > Watt(0));
    return load;
}

} // namespace

bool is_hand_held_use(std::string_view use) {
    const std::string word = base::folded(use);
    return word.find("socket") != std::string::npos || word.find("festive") != std::string::npos ||
           is_charger(use);
}

bool is_charger(std::string_view use) {
    const std::string word = base::folded(use);
    return word.find("charger") != std::string::npos || word.find("charging") != std::string::npos;
}

LoadBook::LoadBook(const model::Layers& layers, const Assumptions& assumptions)
    : m_layers(layers), m_assumptions(assumptions) {
    if (layers.loads.empty()) {
        return;
    }
    std::unordered_map<base::TextId, base::ColumnId> columns;
    for (std::size_t c = 0; c < layers.columns.size(); ++c) {
        columns.emplace(layers.columns[c].id, base::ColumnId(c));
    }
    for (std::uint32_t r = 0; r < layers.loads.size(); ++r) {
        const auto column = columns.find(layers.loads[r].column_id);
        if (column != columns.end()) {
            m_rows.add(column->second, r);
        }
    }
    m_rows.freeze();
}

std::span<const std::uint32_t> LoadBook::rows(base::ColumnId column) const {
    return m_rows.of(column);
}

std::vector<LoadBook::OnPhase> LoadBook::by_phase(base::ColumnId id) const {
    const model::Column& column = m_layers.columns[id.index()];
    if (!model::conducts(column.status)) {
        return {};
    }
    const auto loads = rows(id);
    if (loads.empty()) {
        return {{column.phase, load_of(column.load, column.power_factor, m_assumptions.load,
                                       m_assumptions.power_factor)}};
    }
    std::vector<OnPhase> result;
    for (const std::uint32_t r : loads) {
        const model::Load& row = m_layers.loads[r];
        const auto pf = row.power_factor.has_value() ? row.power_factor : column.power_factor;
        result.push_back(
            {row.phase == model::Phase::unknown ? column.phase : row.phase,
             load_of(row.load, pf, m_assumptions.use_load, m_assumptions.power_factor)});
    }
    return result;
}

ColumnLoad LoadBook::of(base::ColumnId id) const {
    ColumnLoad sum;
    for (const OnPhase& one : by_phase(id)) {
        sum.real += one.load.real;
        sum.reactive += one.load.reactive;
        sum.is_assumed = sum.is_assumed || one.load.is_assumed;
    }
    return sum;
}

} // namespace loopwalk::figures
