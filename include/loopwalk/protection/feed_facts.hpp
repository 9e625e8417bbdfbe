// What feeds a column or a section, and which limit its circuit has: looked up, not judged.
#pragma once

#include "loopwalk/figures/tt_earth.hpp"

#include <functional>

namespace loopwalk::protection {

/// What the network and the records say of a column's feed: source, owner, limits, earthing. Never
/// changes.
class FeedFacts {
  public:
    FeedFacts(const figures::Inputs& inputs, const figures::Figures& figures)
        : m_layers(inputs.layers), m_rules(inputs.job.rules), m_net(inputs.network),
          m_trace(inputs.trace), m_figures(figures) {}

    /// Source of an infeed; null at a main that no substation is recorded for.
    [[nodiscard]] const impedance::Source* source_of_infeed(base::InfeedId infeed) const;
    /// Source of a column; of joined ones the weakest. Null where it is not known.
    [[nodiscard]] const impedance::Source* source(const figures::ColumnFigures& column) const;
    /// Source of a section; null where it is not traced or not known.
    [[nodiscard]] const impedance::Source* source(const figures::SectionFigures& section) const;
    /// The section that leads to a vertex, links inside assets passed over; invalid at a source.
    [[nodiscard]] base::SectionId section_to(base::VertexId v) const;
    /// Straight off a distributor's main, with no device on record.
    [[nodiscard]] bool is_on_main(const figures::ColumnFigures& figures) const;
    /// The section's cable is recorded as the council's.
    [[nodiscard]] bool is_councils(base::SectionId id) const;
    /// On an electrode of its own: a TT supply, or a column so recorded on another.
    [[nodiscard]] bool is_tt(base::ColumnId id) const;
    /// Whether a column on the path to a column, itself left out, is such a one.
    [[nodiscard]] bool any_column_before(base::ColumnId id,
                                         const std::function<bool(base::ColumnId)>& is_one) const;
    /// Whose the cables on a column's path are: the council's if one is, the distributor's if all
    /// are or none is drawn, else unknown.
    [[nodiscard]] model::Owner owner_of_path(base::ColumnId id) const;
    /// Ra + R2 of a TT column, hot. Precondition: it has figures.
    [[nodiscard]] figures::TtEarth tt_earth(base::ColumnId id) const {
        return figures::tt_earth(tt_record(id));
    }
    /// The records behind it.
    [[nodiscard]] figures::TtEarthRecord tt_record(base::ColumnId id) const {
        return figures::tt_record(m_layers, m_net, m_figures, id);
    }
    /// Longest time for a fault on the incoming side of a column: recorded there or on its way,
    /// else the setting.
    [[nodiscard]] base::Second in_limit(base::ColumnId id) const;
    /// Longest time for a fault beyond a column's cut-out; `load`: the row that asks, or null.
    [[nodiscard]] base::Second out_limit(base::ColumnId id, const model::Load* load) const;
    /// Residual current of the RCD recorded on a column's way or supply, mA; 0: none there.
    [[nodiscard]] base::Maybe<base::Number> way_rcd(base::ColumnId id) const;

  private:
    const model::Layers& m_layers;
    const config::Rules& m_rules;
    const network::Network& m_net;
    const trace::Trace& m_trace;
    const figures::Figures& m_figures;
};

} // namespace loopwalk::protection
