// Heat in conductors during a fault: k^2 S^2 >= I^2 t (method.md section 8; BS 7671 regs 434.5.2
// and 543.1.3), at the smallest and at the largest current.
#pragma once

#include "loopwalk/protection/breaking.hpp"
#include "loopwalk/protection/cables.hpp"
#include "loopwalk/protection/clearing_sequence.hpp"

namespace loopwalk::protection {

/// Worst verdicts on the conductors that carry a fault in a section: its own, and the weakest
/// before it.
struct SectionHeat {
    Verdict cores = Verdict::none;      ///< line and neutral
    Verdict earth_path = Verdict::none; ///< armour or core, whichever carries it
};

/// Conductors against the heat of faults (BS 7671 regs 434.5.2 and 543.1.3): docs/method.md section
/// 8.
class Heat {
  public:
    Heat(const figures::Inputs& inputs, const figures::Figures& figures, const FeedFacts& facts,
         Devices& devices, const Cables& cables, ClearingSequences& sequences,
         const Breaking& breaking)
        : m_layers(inputs.layers), m_rules(inputs.job.rules), m_net(inputs.network),
          m_trace(inputs.trace), m_figures(figures), m_facts(facts), m_devices(devices),
          m_cables(cables), m_sequences(sequences), m_breaking(breaking) {}

    /// `problems` is cleared and filled with what fails or is undecided.
    [[nodiscard]] SectionHeat of_section(base::SectionId id, std::vector<HeatCheck>& problems);
    /// The earth path all along, for a fault on the incoming side of the column; nothing where
    /// there is none to judge. Precondition: the column has figures.
    /// `supposed`: what its one device is taken to be; null: as recorded.
    [[nodiscard]] std::optional<HeatCheck> of_column(base::ColumnId id,
                                                     const DeviceChoices* supposed = nullptr);
    /// What the missing prospective current of its supply does to that verdict.
    struct PsccWorth {
        bool touches = false; ///< it is undecided, and some value decides it
        bool settles = false; ///< every value does
    };
    /// Of a column whose path has one device; else nothing is said.
    [[nodiscard]] PsccWorth worth_of_pscc(base::ColumnId id);
    /// Whether all conductors on the path to a column certainly survive a fault there behind a
    /// device.
    [[nodiscard]] bool path_survives(base::ColumnId id, const DeviceChoices& device) const;

  private:
    struct Fault;
    [[nodiscard]] HeatCheck check(const Fault& fault, Core core, base::SectionId heated) const;
    [[nodiscard]] Reason why_open(const Fault& fault, base::SectionId heated,
                                  const base::Bounds<base::AmpereSquaredSecond>& ks) const;
    using Series = std::vector<const DeviceChoices*>;
    static void let_pass(Fault& fault, const Series& devices, base::Ampere low, base::Ampere high);
    [[nodiscard]] Fault smallest_fault(const figures::SectionFigures& at, const Series& devices,
                                       const impedance::Source& source,
                                       base::Maybe<base::Ohm> z_low,
                                       base::Maybe<base::Ohm> z_high) const;
    struct Bounded {
        base::Maybe<base::Ampere> low, high;
    };
    [[nodiscard]] static Fault largest_fault(const Series& devices, const impedance::Source& source,
                                             const Bounded& current,
                                             base::Maybe<base::Ampere> least);
    [[nodiscard]] base::Maybe<base::Ampere> least_current(const impedance::Source& source,
                                                          base::Maybe<base::Ohm> z_high) const;
    [[nodiscard]] figures::LargestCurrents largest_before(base::SectionId id,
                                                          const impedance::Source& source) const;
    [[nodiscard]] SectionHeat of_fed_section(base::SectionId id, std::vector<HeatCheck>& problems);
    [[nodiscard]] Fault fault_from_feeds(const figures::FedPoint& place,
                                         base::Maybe<base::Ampere> largest);
    [[nodiscard]] std::optional<HeatCheck> of_fed_column(base::ColumnId id);

    const model::Layers& m_layers;
    const config::Rules& m_rules;
    const network::Network& m_net;
    const trace::Trace& m_trace;
    const figures::Figures& m_figures;
    const FeedFacts& m_facts;
    Devices& m_devices;
    const Cables& m_cables;
    ClearingSequences& m_sequences;
    const Breaking& m_breaking;
};

} // namespace loopwalk::protection
