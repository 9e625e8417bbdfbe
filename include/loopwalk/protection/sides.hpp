// The two sides of a cut-out: a fault on its incoming cable, and one at the lantern end of the
// tail (method.md sections 4, 6 and 7).
#pragma once

#include "loopwalk/figures/loads.hpp"
#include "loopwalk/protection/cables.hpp"
#include "loopwalk/protection/clearing_sequence.hpp"

namespace loopwalk::protection {

/// Something that the records do not tell, taken to be known. Null: as recorded.
struct Suppose {
    impedance::Complex low, high;           ///< added to the hot loop up to the column, each bound
    impedance::Complex tail_low, tail_high; ///< added beyond the cut-out
    const impedance::Source* source = nullptr; ///< in place of the column's own
    const DeviceChoices* device = nullptr;     ///< that protects the incoming side
    const DeviceChoices* own = nullptr;        ///< the column's own fuse
};

/// The two disconnection verdicts of a column.
struct SideVerdicts {
    Verdict in = Verdict::none;  ///< of the incoming side
    Verdict out = Verdict::none; ///< beyond the cut-out
};

/// Judges both sides of cut-outs against their disconnection time.
class Sides {
  public:
    Sides(const figures::Inputs& inputs, const figures::Figures& figures, const FeedFacts& facts,
          Devices& devices, const Cables& cables, const figures::LoadBook& loads,
          ClearingSequences& sequences)
        : m_layers(inputs.layers), m_rules(inputs.job.rules), m_figures(figures), m_facts(facts),
          m_devices(devices), m_cables(cables), m_loads(loads), m_sequences(sequences) {}

    /// A fault on the incoming side. Precondition: the column has figures.
    [[nodiscard]] Side incoming(base::ColumnId id, const Suppose& what = {});
    /// A fault beyond the cut-out; of several loads the worst. `in`: the incoming side as judged.
    [[nodiscard]] Side beyond(base::ColumnId id, const Side& in, const Suppose& what = {});

    /// What the disconnection verdicts would be. Readings are left out: they stand whatever is
    /// supposed. Precondition: can_suppose().
    [[nodiscard]] SideVerdicts verdicts_if(base::ColumnId id, const Suppose& what);
    /// Fed by one device, with an earth path that is sure and no electrode of its own: its
    /// verdicts follow from the sums along its path.
    [[nodiscard]] bool can_suppose(base::ColumnId id) const;

  private:
    struct Input;
    [[nodiscard]] Side measure(const Input& input, const LimitCurrents& currents) const;
    [[nodiscard]] Side judge(const Input& input) const;
    [[nodiscard]] Side in_series(base::ColumnId id, const Input& nearest, Side first,
                                 const Suppose& what);
    [[nodiscard]] Side behind_main_fuse(base::ColumnId id, model::Owner owner, const Suppose& what);
    [[nodiscard]] Input incoming_input(base::ColumnId id, const Suppose& what);
    void place(base::ColumnId id, const model::FuseRecord& fuse, std::uint32_t row,
               Side& side) const;
    [[nodiscard]] Side judge_load(base::ColumnId id, const Side& in, std::uint32_t row,
                                  const Suppose& what);
    [[nodiscard]] Input lantern_input(base::ColumnId id, const model::FuseRecord& fuse,
                                      base::AssetLayer layer, base::Second limit,
                                      const Suppose& what);
    [[nodiscard]] Side judge_tt(base::ColumnId id, base::Maybe<base::Number> rcd_ma,
                                base::Second limit) const;
    void judge_electrode(base::ColumnId id, base::Ohm most, Side& side) const;
    [[nodiscard]] TailLoop with_tail(base::ColumnId id) const;

    const model::Layers& m_layers;
    const config::Rules& m_rules;
    const figures::Figures& m_figures;
    const FeedFacts& m_facts;
    Devices& m_devices;
    const Cables& m_cables;
    const figures::LoadBook& m_loads;
    ClearingSequences& m_sequences;
};

} // namespace loopwalk::protection
