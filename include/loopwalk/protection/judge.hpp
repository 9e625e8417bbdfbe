// Judgement: figures against devices and limits. Each verdict holds at the unfavourable bound or
// breaks at the favourable one; between them it is undecided (method.md sections 2, 6 and 7).
// This puts the parts together; each of them is of use by itself.
#pragma once

#include "loopwalk/protection/breaking.hpp"
#include "loopwalk/protection/cables.hpp"
#include "loopwalk/protection/clearing_sequence.hpp"
#include "loopwalk/protection/cover.hpp"
#include "loopwalk/protection/devices.hpp"
#include "loopwalk/protection/feed_facts.hpp"
#include "loopwalk/protection/feeds.hpp"
#include "loopwalk/protection/heat.hpp"
#include "loopwalk/protection/readings.hpp"
#include "loopwalk/protection/sides.hpp"

#include <map>

namespace loopwalk::protection {

using base::CableId;
using base::ColumnId;
using base::DeviceId;
using base::InfeedId;
using base::NodeId;
using base::VertexId;
using base::WayId;

/// The verdicts on columns, from the parts that judge one matter each; these are here for those who
/// ask for more than a column. Remembers what is costly: one thread at a time.
class Judge {
  public:
    /// Both outlive it.
    Judge(const figures::Inputs& inputs, const figures::Figures& figures);
    Judge(const Judge&) = delete;
    Judge& operator=(const Judge&) = delete;

    /// Everything about one column.
    [[nodiscard]] Judgement column(ColumnId id);
    /// Hot loop of the tail of a column, high bound.
    [[nodiscard]] base::Ohm tail_ohms(ColumnId id) const;
    /// What a loop test at a column goes through. Precondition: it has figures.
    [[nodiscard]] TestPath test_path(ColumnId id) const;

    /// Sources, owners and limits.
    [[nodiscard]] const FeedFacts& facts() const noexcept { return m_facts; }
    /// What devices may be.
    [[nodiscard]] Devices& devices() noexcept { return m_devices; }
    /// Likewise.
    [[nodiscard]] const Devices& devices() const noexcept { return m_devices; }
    /// What columns hang on.
    [[nodiscard]] const Feeds& feeds() const noexcept { return m_feeds; }
    /// What cables stand and add.
    [[nodiscard]] const Cables& cables() const noexcept { return m_cables; }
    /// Test readings.
    [[nodiscard]] const Readings& readings() const noexcept { return m_readings; }
    /// Loads of columns.
    [[nodiscard]] const figures::LoadBook& loads() const noexcept { return m_loads; }
    /// Disconnection on both sides of cut-outs.
    [[nodiscard]] Sides& sides() noexcept { return m_sides; }
    /// Likewise.
    [[nodiscard]] const Sides& sides() const noexcept { return m_sides; }
    /// Breaking capacities.
    [[nodiscard]] Breaking& breaking() noexcept { return m_breaking; }
    /// Heat in conductors.
    [[nodiscard]] Heat& heat() noexcept { return m_heat; }
    /// Faults in sections.
    [[nodiscard]] SectionCovers& covers() noexcept { return m_covers; }

  private:
    void fill_loop(ColumnId id, Judgement& judgement) const;
    [[nodiscard]] std::optional<DeviceId> broken_by_reading(ColumnId id);
    void leave_open_beyond_readings(ColumnId id, Judgement& judgement);
    void fill_tt_loop(ColumnId id, Judgement& judgement) const;
    [[nodiscard]] Verdict volt_drop(const figures::ColumnFigures& figures) const;
    void find_fuse_sizes(ColumnId id, Judgement& judgement);

    const model::Layers& m_layers;
    const config::Rules& m_rules;
    const figures::Figures& m_figures;
    FeedFacts m_facts;
    Devices m_devices;
    Feeds m_feeds;
    Cables m_cables;
    Readings m_readings;
    figures::LoadBook m_loads;
    ClearingSequences m_sequences;
    Sides m_sides;
    Breaking m_breaking;
    Heat m_heat;
    SectionCovers m_covers;
    std::map<ColumnId, std::optional<DeviceId>> m_broken; ///< of columns with readings, as met
};

} // namespace loopwalk::protection
