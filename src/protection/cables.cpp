#include "loopwalk/protection/cables.hpp"

#include "loopwalk/base/error.hpp"

namespace loopwalk::protection {

using base::Bounds;
using base::ColumnId;
using base::Metre;
using base::SectionId;
using impedance::CablePerKm;
using impedance::Complex;
using impedance::Conductors;
using impedance::per_km;
using impedance::tail_length;
using impedance::Withstand;

Cables::Cables(const figures::Inputs& inputs)
    : m_layers(inputs.layers), m_rules(inputs.job.rules), m_assumptions(inputs.assumptions),
      m_net(inputs.network) {
    for (const catalogue::CableType& type : inputs.catalogue.cables()) {
        m_types.push_back(per_km(type, m_rules.armour_ac_factor));
        m_unbonded.push_back(
            per_km(type, m_rules.armour_ac_factor, impedance::ArmourBond::not_bonded).withstand);
    }
}

Complex Cables::tail_loop_if(ColumnId id, std::optional<base::CableTypeId> type,
                             Metre length) const {
    const auto& recorded = m_layers.columns[id.index()].tail_type.type;
    LW_ASSERT(type.has_value() || recorded.is_valid());
    const CablePerKm& tail = m_types[type.value_or(recorded).index()];
    return (tail.z.hot_high.line + tail.z.hot_high.earth) * (length.value() / 1000.0);
}

TailLoop Cables::tail_loop(ColumnId id) const {
    const model::Column& column = m_layers.columns[id.index()];
    const CablePerKm& tail = column.tail_type.type.is_valid()
                                 ? m_types[column.tail_type.type.index()]
                                 : m_assumptions.missing_tail;
    const Bounds<Metre> length = tail_length(column, m_assumptions, m_rules);
    const auto loop = [](const Conductors& c) { return c.line + c.earth; };
    return {loop(tail.z.hot_low) * (length.low.value() / 1000.0),
            loop(tail.z.hot_high) * (length.high.value() / 1000.0)};
}

Ampacity Cables::ampacity(base::SectionId id) const {
    const model::Cable& cable = m_layers.cables[m_net.snapped.sections[id.index()].cable.index()];
    const CablePerKm& type =
        cable.type.type.is_valid() ? m_types[cable.type.type.index()] : m_assumptions.missing_cable;
    return {type.ampacity, type.ampacity_high};
}

const Withstand& Cables::withstand(SectionId id) const {
    const model::Cable& cable = m_layers.cables[m_net.snapped.sections[id.index()].cable.index()];
    const bool broken = m_net.earth_ends[id.index()].broken;
    if (!cable.type.type.is_valid()) {
        return broken ? m_assumptions.missing_cable_unbonded.withstand
                      : m_assumptions.missing_cable.withstand;
    }
    const std::size_t type = cable.type.type.index();
    return broken ? m_unbonded[type] : m_types[type].withstand;
}

} // namespace loopwalk::protection
