// The reasons behind a verdict in words, and the attributes that would settle an undecided one.
#pragma once

#include "loopwalk/protection/judge.hpp"

#include <functional>
#include <string>
#include <vector>

namespace loopwalk::checks {

using base::CableId;
using base::ColumnId;
using base::DeviceId;
using base::InfeedId;
using base::NodeId;
using base::VertexId;
using base::WayId;
using figures::Figures;
using protection::HeatCheck;
using protection::Judgement;
using protection::Reason;
using protection::Side;

/// "its breaking capacity is not known"; empty for none.
[[nodiscard]] std::string reason_text(Reason reason);

/// Puts reasons into words of the trade. Keeps references to what it is made from; changes nothing.
class Explainer {
  public:
    Explainer(const model::Layers& layers, const catalogue::Catalogue& catalogue,
              const network::Network& network, const trace::Trace& trace, const Figures& figures)
        : m_layers(layers), m_catalogue(catalogue), m_net(network), m_trace(trace),
          m_figures(figures) {}

    /// One or two sentences for lw_why; empty if there is nothing to say.
    [[nodiscard]] std::string column(ColumnId id, const Judgement& judgement) const;
    /// What is wrong with one side, for a finding: "loop up to 9.1 ohm, BS 88-2 16 A needs ...".
    [[nodiscard]] std::string side(ColumnId id, const Side& side) const;
    /// "cable_type of C1, C2; ze_ohm of P1": what would settle an undecided side.
    [[nodiscard]] std::string settled_by(ColumnId id, const Side& side) const;
    /// A reason in words, without what would settle it.
    [[nodiscard]] static std::string reason(Reason reason);
    /// What would settle an undecided check of heat: "cable_type of C1", "total_i2t_a2s of ...".
    [[nodiscard]] std::string settles_heat(const HeatCheck& check, base::DeviceId device) const;
    /// What would settle an undecided breaking capacity of a column's fuse.
    [[nodiscard]] std::string settles_breaking(ColumnId id, Reason reason) const;
    /// "supply/way", joint or column id.
    [[nodiscard]] std::string device_name(base::DeviceId id) const;
    /// Of a side: the device upstream or the column's own.
    [[nodiscard]] std::string device_name(ColumnId id, const Side& side) const;
    /// Several, joined by " + " in the order of their names.
    [[nodiscard]] std::string device_names(const std::vector<base::DeviceId>& ids) const;
    /// "BS 88-2 16 A", "fuse of unknown type, 16 A".
    [[nodiscard]] std::string fuse_text(const model::FuseRecord& fuse) const;
    /// "P/1", or "main M1".
    [[nodiscard]] std::string infeed_name(base::InfeedId infeed) const;
    /// "P/1, Q/3 and 2 more": all that feeds a component.
    [[nodiscard]] std::string feeds_of(const trace::Component& component) const;
    /// The supply and way of an infeed, texts of their own; a main gives an empty supply.
    [[nodiscard]] std::string supply_name(base::InfeedId infeed) const;
    /// Empty on a main.
    [[nodiscard]] std::string way_name(base::InfeedId infeed) const;

  private:
    [[nodiscard]] static std::string meeting(const Judgement& judgement);
    [[nodiscard]] const model::FuseRecord& fuse_of(ColumnId id, const Side& side) const;
    [[nodiscard]] std::string feeds_text(ColumnId id, const Side& side) const;
    [[nodiscard]] std::string device_record(ColumnId id, const Side& side) const;
    void add_device_gaps(ColumnId id, const Side& side, std::vector<std::string>& out) const;
    /// Calls for each section between a column and its source, all of a loop included.
    void for_path(ColumnId id, const std::function<void(base::SectionId)>& note) const;
    /// "status of C1, C2": what feeds a column and has a status that nobody explained.
    [[nodiscard]] std::string unclear_statuses(ColumnId id) const;
    [[nodiscard]] std::string unowned(ColumnId id) const;
    [[nodiscard]] bool lacks_pillars_electrode(ColumnId id) const;
    [[nodiscard]] std::string earthing_asset(ColumnId id) const;
    void add_path_gaps(ColumnId id, std::vector<std::string>& out) const;
    /// "pscc_ka of P"; empty on a main.
    [[nodiscard]] std::string missing_pscc(base::InfeedId infeed) const;
    void add_source_gaps(ColumnId id, std::vector<std::string>& out) const;
    void add_tail_gaps(ColumnId id, std::vector<std::string>& out) const;

    const model::Layers& m_layers;
    const catalogue::Catalogue& m_catalogue;
    const network::Network& m_net;
    const trace::Trace& m_trace;
    const Figures& m_figures;
};

} // namespace loopwalk::checks
