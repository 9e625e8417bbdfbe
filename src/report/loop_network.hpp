// A closed loop, or several that hang together, worked conductor by conductor.
#pragma once

#include "loopwalk/solution/nodal.hpp"

#include "context.hpp"
#include <optional>

namespace loopwalk::report {

using ConductorOf = impedance::Complex impedance::Conductors::*;
using ConditionOf = impedance::Conductors impedance::Impedances::*;

/// What a section's records say of its earth path and neutral.
struct SectionState {
    impedance::EarthPathState earth = impedance::EarthPathState::intact;
    impedance::Presence neutral = impedance::Presence::yes;
    bool is_complete = false; ///< type and length are recorded
};
[[nodiscard]] SectionState state_of(const Context& c, base::SectionId id);

/// One branch of a ring: which sections, by their position in the block, in the order of the
/// current.
using RingBranch = std::vector<std::size_t>;

class LoopNetwork {
  public:
    /// The block has one terminal: the supply's, or its gate. It outlives this object.
    LoopNetwork(const Context& context, const trace::Block& block);

    /// Type and length of every section are recorded, so that its ohms have one value each at the
    /// bound's own conditions.
    [[nodiscard]] bool is_complete() const noexcept { return m_is_complete; }
    /// Impedance of one conductor from the terminal to a vertex, ohm; none if nothing leads there.
    /// `open`: links of the block whose device has opened; only the line is interrupted.
    [[nodiscard]] std::optional<impedance::Complex> drive(ConductorOf conductor, ConditionOf when,
                                                          trace::LocalVertex to,
                                                          const std::vector<bool>& open = {}) const;
    /// The two ways round to a vertex, if the block is one ring and both reach it; else empty.
    [[nodiscard]] std::vector<RingBranch> ring_branches(trace::LocalVertex to) const;
    /// Impedance of one section.
    [[nodiscard]] impedance::Complex ohms(std::size_t section, ConductorOf conductor,
                                          ConditionOf when) const;
    [[nodiscard]] const trace::Block& block() const noexcept { return m_block; }
    /// Name of a vertex: the asset's, with the way or side where the asset has several.
    [[nodiscard]] std::string name(trace::LocalVertex vertex) const;

  private:
    [[nodiscard]] std::vector<std::uint32_t> groups(const std::vector<bool>& open) const;
    [[nodiscard]] bool conducts(std::size_t section, ConductorOf conductor, ConditionOf when) const;

    const Context& m_c;
    const trace::Block& m_block;
    std::vector<SectionState> m_states;
    bool m_is_complete = true;
};

} // namespace loopwalk::report
