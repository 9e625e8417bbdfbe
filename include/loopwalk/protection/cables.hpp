// What the cables of the records carry and survive, and the loops of tails inside columns.
#pragma once

#include "loopwalk/figures/figures.hpp"
#include "loopwalk/figures/loads.hpp"

namespace loopwalk::protection {

/// Current-carrying capacity over the types a cable may have; absent if one of them has none in the
/// catalogue.
struct Ampacity {
    base::Maybe<base::Ampere> low, high; ///< least and most over the types, A
};

/// Hot line and protective conductor of a tail, ohm.
struct TailLoop {
    impedance::Complex low, high; ///< at the bounds over its type and length
};

/// What cables stand and add, from their types and what may stand for missing ones. Never changes.
class Cables {
  public:
    explicit Cables(const figures::Inputs& inputs);

    /// Of the tail of a column as recorded.
    [[nodiscard]] TailLoop tail_loop(base::ColumnId id) const;
    /// The same with a length, a type, or both taken to be known. Precondition: a type is given or
    /// recorded.
    [[nodiscard]] impedance::Complex tail_loop_if(base::ColumnId id,
                                                  std::optional<base::CableTypeId> type,
                                                  base::Metre length) const;
    /// Of a section's cable.
    [[nodiscard]] Ampacity ampacity(base::SectionId id) const;
    /// What the conductors of a section survive, armour left out where it is not bonded.
    [[nodiscard]] const impedance::Withstand& withstand(base::SectionId id) const;

  private:
    const model::Layers& m_layers;
    const config::Rules& m_rules;
    const impedance::Assumptions& m_assumptions;
    const network::Network& m_net;
    std::vector<impedance::CablePerKm> m_types;   ///< by cable type
    std::vector<impedance::Withstand> m_unbonded; ///< by cable type, with armour not bonded
};

} // namespace loopwalk::protection
