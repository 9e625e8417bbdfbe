// Breaking capacity of devices against the largest current at their places (BS 7671 reg 434.5.1).
#pragma once

#include "loopwalk/figures/loads.hpp"
#include "loopwalk/protection/devices.hpp"
#include "loopwalk/protection/feed_facts.hpp"
#include "loopwalk/protection/judgement.hpp"
#include "loopwalk/protection/readings.hpp"

namespace loopwalk::protection {

/// What a device can break, and what it may have to, kA.
struct BreakingCase {
    BreakingRange range;                       ///< of the device
    base::Maybe<base::Number> low_ka, high_ka; ///< largest current, over the completions
    bool pscc_missing = false;         ///< the currents are those of its conventional maximum
    base::Maybe<base::Number> read_ka; ///< a reading at the place: there is so much, at least
};

/// The current that a source can drive is at most its conventional maximum where it is not on
/// record: a device that breaks so much meets, and none certainly fails.
[[nodiscard]] Verdict breaking_verdict(const BreakingCase& what) noexcept;

/// A device judged; verdict `none` where no current is computed.
struct DeviceBreaking {
    Verdict verdict = Verdict::none; ///< of the device
    BreakingCase what;               ///< what it was judged by
    /// kA: what its weakest choice breaks; the current that decided
    base::Maybe<base::Number> device_ka, current_ka;
    std::optional<base::SupplyId> supply; ///< whose source it is; none: a main's
};

/// A column's cut-out fuses judged; verdict `none` where it has none.
struct CutOutBreaking {
    Verdict verdict = Verdict::none;     ///< of the weakest fuse that the column may have
    Reason reason = Reason::none;        ///< why it is not simply met
    BreakingCase what;                   ///< what it was judged by
    base::Maybe<base::Number> device_ka; ///< of the weakest possible fuse
};

/// Whether devices can break the largest current where they stand (BS 7671 reg 434.5.1).
class Breaking {
  public:
    Breaking(const figures::Inputs& inputs, const figures::Figures& figures, const FeedFacts& facts,
             Devices& devices, const figures::LoadBook& loads, const Readings& readings)
        : m_layers(inputs.layers), m_rules(inputs.job.rules), m_net(inputs.network),
          m_figures(figures), m_facts(facts), m_devices(devices), m_loads(loads),
          m_readings(readings) {}

    /// A way's, section pillar's or joint's device; a column's own fuse is judged with its column.
    [[nodiscard]] DeviceBreaking of_device(base::DeviceId id);
    /// The cut-out's fuses against the largest current that reaches the column. `own`: what its
    /// fuse is supposed to be; null: as recorded. Precondition: the column has figures.
    [[nodiscard]] CutOutBreaking of_column(base::ColumnId id, const DeviceChoices* own = nullptr);
    /// Largest currents at a supply's outgoing terminals.
    [[nodiscard]] figures::LargestCurrents
    largest_at_terminals(const impedance::Source& source) const;
    /// Largest currents at a vertex on a path from a source.
    [[nodiscard]] figures::LargestCurrents largest_at(base::VertexId v,
                                                      const impedance::Source& source) const;

  private:
    [[nodiscard]] std::optional<BreakingRange> cut_out_range(base::ColumnId id,
                                                             const DeviceChoices* own);

    const model::Layers& m_layers;
    const config::Rules& m_rules;
    const network::Network& m_net;
    const figures::Figures& m_figures;
    const FeedFacts& m_facts;
    Devices& m_devices;
    const figures::LoadBook& m_loads;
    const Readings& m_readings;
};

} // namespace loopwalk::protection
