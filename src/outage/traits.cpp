#include "traits.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace loopwalk::outage {
namespace {

using base::ComponentId;
using base::InfeedId;
using base::WayId;
using model::Control;
using model::Phase;

Phases bit(Phase phase) {
    return phase == Phase::unknown ? Phases{0}
                                   : static_cast<Phases>(1U << (static_cast<unsigned>(phase) - 1U));
}

bool is_one(Phases phases) {
    return phases == 0b001 || phases == 0b010 || phases == 0b100;
}

class Reader {
  public:
    Reader(const Inputs& in, const SupplyGraph& graph) : m_in(in) {
        for (const model::Load& load : in.layers.loads) {
            Phases& phases = m_of_loads[load.column_id];
            phases = static_cast<Phases>(phases | bit(load.phase));
            if (load.phase == Phase::unknown) {
                m_half_known.insert(load.column_id);
            }
        }
        for (const ComponentId id : graph.chosen) {
            note_several(in.trace.components[id.index()]);
        }
        for (const ColumnId id : graph.columns) { // columns on several phases show that there are
            if (const auto* component = component_of(id); component != nullptr) {
                Phases& seen = m_seen[in.trace.id_of(*component)];
                seen = static_cast<Phases>(seen | own_phases(id));
            }
        }
    }

    [[nodiscard]] ColumnTraits of(ColumnId id) const {
        ColumnTraits traits;
        const auto* component = component_of(id);
        traits.phases = recorded_phases(id, component);
        traits.of_mains = traits.phases == 0 ? kAnyPhase : traits.phases;
        if (traits.phases == 0) {
            traits.is_phase_open = component != nullptr && has_several(*component);
            traits.phases = traits.is_phase_open ? kAnyPhase : only_phase(component);
        }
        fill_switching(id, traits);
        return traits;
    }

  private:
    [[nodiscard]] const trace::Component* component_of(ColumnId id) const {
        return trace::fed_component(m_in.network, m_in.trace, id);
    }

    /// Ways of three phases, or of different ones, meet in it.
    void note_several(const trace::Component& component) {
        Phases phases = 0;
        bool is_several = false;
        for (const InfeedId infeed : m_in.trace.infeeds_of(component)) {
            is_several = is_several || figures::is_three_phase(m_in.layers, m_in.network,
                                                               m_in.figures.sources, infeed);
            phases = static_cast<Phases>(phases |
                                         bit(figures::phase_of(m_in.layers, m_in.network, infeed)));
        }
        if (is_several || (phases != 0 && !is_one(phases))) {
            m_several.insert(m_in.trace.id_of(component));
        }
    }

    [[nodiscard]] bool has_several(const trace::Component& component) const {
        const ComponentId id = m_in.trace.id_of(component);
        const auto seen = m_seen.find(id);
        return m_several.contains(id) ||
               (seen != m_seen.end() && seen->second != 0 && !is_one(seen->second));
    }

    /// Of a single-phase way: that of the columns on it which have one on record.
    [[nodiscard]] Phases only_phase(const trace::Component* component) const {
        const auto seen =
            component != nullptr ? m_seen.find(m_in.trace.id_of(*component)) : m_seen.end();
        return seen != m_seen.end() && seen->second != 0 ? seen->second : bit(Phase::l1);
    }

    /// Recorded of the column or its loads.
    [[nodiscard]] Phases own_phases(ColumnId id) const {
        const model::Column& column = m_in.layers.columns[id.index()];
        const auto loads = m_of_loads.find(column.id);
        if (column.phase != Phase::unknown) {
            return bit(column.phase);
        }
        const bool is_known = loads != m_of_loads.end() && !m_half_known.contains(column.id);
        return is_known ? loads->second : Phases{0};
    }

    /// Its own, else that of the nearest way, else that of the way it starts from; 0: none.
    [[nodiscard]] Phases recorded_phases(ColumnId id, const trace::Component* component) const {
        if (const Phases own = own_phases(id); own != 0 || component == nullptr) {
            return own;
        }
        const figures::ColumnFigures& column = m_in.figures.columns[id.index()];
        if (column.nearest_way.is_valid()) {
            const base::WayRowId row = m_in.network.ways[column.nearest_way.index()].row;
            const Phase phase =
                row.is_valid() ? m_in.layers.ways[row.index()].phase : Phase::unknown;
            if (phase != Phase::unknown) {
                return bit(phase);
            }
        }
        if (component->infeed_count > 1) {
            return 0;
        }
        return bit(
            figures::phase_of(m_in.layers, m_in.network, m_in.trace.infeeds_of(*component)[0]));
    }

    /// Recorded of its way, the nearest first; of a ring only if all its ways agree.
    [[nodiscard]] Control of_way(ColumnId id) const {
        const auto control = [&](base::WayRowId row) {
            return row.is_valid() ? m_in.layers.ways[row.index()].control : Control::unknown;
        };
        const WayId nearest = m_in.figures.columns[id.index()].nearest_way;
        const Control own =
            nearest.is_valid() ? control(m_in.network.ways[nearest.index()].row) : Control::unknown;
        const auto* component = component_of(id);
        if (own != Control::unknown || component == nullptr) {
            return own;
        }
        const auto of_infeed = [&](InfeedId infeed) {
            return control(m_in.network.row_of(infeed).value_or(base::WayRowId{}));
        };
        const auto infeeds = m_in.trace.infeeds_of(*component);
        const Control first = of_infeed(infeeds[0]);
        const bool all_agree = std::ranges::all_of(
            infeeds, [&](InfeedId infeed) { return of_infeed(infeed) == first; });
        return all_agree ? first : Control::unknown;
    }

    [[nodiscard]] bool has_group_switched_way(ColumnId id) const {
        const auto* component = component_of(id);
        return component != nullptr &&
               std::ranges::any_of(m_in.trace.infeeds_of(*component), [&](InfeedId infeed) {
                   const auto row = m_in.network.row_of(infeed);
                   return row.has_value() &&
                          m_in.layers.ways[row->index()].control == Control::group_switched;
               });
    }

    /// Recorded of the cable that brings its current.
    [[nodiscard]] Control of_cable(ColumnId id) const {
        const base::VertexId v = trace::column_vertex(m_in.network, m_in.trace, id);
        if (!v.is_valid() || m_in.trace.clean[v.index()] == 0 ||
            !m_in.trace.parent[v.index()].is_valid() ||
            !m_in.network.is_section(m_in.trace.parent_edge[v.index()])) {
            return Control::unknown;
        }
        const auto& section =
            m_in.network.snapped.sections[m_in.trace.parent_edge[v.index()].index()];
        return m_in.layers.cables[section.cable.index()].control;
    }

    /// Fed by services and mains, and by no pillar.
    [[nodiscard]] bool is_distributors_alone(ColumnId id) const {
        const auto* component = component_of(id);
        return component != nullptr &&
               std::ranges::all_of(m_in.trace.infeeds_of(*component), [&](InfeedId infeed) {
                   const auto supply = m_in.network.supply_of(infeed);
                   return !supply.has_value() ||
                          model::is_distributors(m_in.layers.supplies[supply->index()].kind);
               });
    }

    /// A switched way takes everything on it along; otherwise the column's own record counts.
    void fill_switching(ColumnId id, ColumnTraits& traits) const {
        const Control own = m_in.layers.columns[id.index()].control;
        const Control way = of_way(id);
        traits.control = own != Control::unknown   ? own
                         : way != Control::unknown ? way
                                                   : of_cable(id);
        switch (traits.control) {
        case Control::group_switched:
            traits.by_contactor = Certainty::certain;
            traits.by_core = Certainty::no;
            break;
        case Control::switch_core:
            traits.by_contactor = traits.by_core = Certainty::certain;
            break;
        case Control::permanent:
        case Control::own_photocell:
            traits.by_contactor = traits.by_core = Certainty::no;
            break;
        case Control::unknown:
            if (is_distributors_alone(id)) { // nobody switches a service in a group
                traits.by_contactor = Certainty::no;
            }
            break;
        }
        if (way == Control::group_switched) {
            traits.by_contactor = Certainty::certain;
        } else if (way == Control::permanent && traits.by_contactor == Certainty::certain) {
            traits.by_contactor = Certainty::possible; // the two records contradict each other
        } else if (traits.by_contactor == Certainty::no && has_group_switched_way(id)) {
            traits.by_contactor = Certainty::possible; // one of the ways that feed it
        }
    }

    const Inputs& m_in;
    std::map<base::TextId, Phases> m_of_loads;
    std::set<base::TextId> m_half_known; ///< columns with a load of unknown phase
    std::set<ComponentId> m_several;
    std::map<ComponentId, Phases> m_seen;
};

} // namespace

std::vector<ColumnTraits> column_traits(const Inputs& inputs, const SupplyGraph& graph) {
    const Reader reader(inputs, graph);
    std::vector<ColumnTraits> traits;
    traits.reserve(graph.columns.size());
    for (const ColumnId id : graph.columns) {
        traits.push_back(reader.of(id));
    }
    return traits;
}

Certainty covers(const Loss& loss, const ColumnTraits& column) {
    switch (loss.scope) {
    case Scope::whole:
        return Certainty::certain;
    case Scope::switching:
        return has_contactor(loss.place.kind) ? column.by_contactor : column.by_core;
    case Scope::l1:
    case Scope::l2:
    case Scope::l3:
        break;
    }
    const auto phase = static_cast<Phases>(
        1U << (static_cast<unsigned>(loss.scope) - static_cast<unsigned>(Scope::l1)));
    const Phases phases = is_of_mains(loss.place.kind) ? column.of_mains : column.phases;
    return phases == phase         ? Certainty::certain
           : (phases & phase) != 0 ? Certainty::possible
                                   : Certainty::no;
}

} // namespace loopwalk::outage
