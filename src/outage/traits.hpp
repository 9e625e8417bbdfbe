// What the records tell of a column beyond the path to it: its phase, and how it is switched.
#pragma once

#include "loopwalk/outage/outage.hpp"

#include "supply_graph.hpp"

namespace loopwalk::outage {

enum class Certainty : std::uint8_t { no, possible, certain };

/// Phases that a column may be on, one bit each.
using Phases = std::uint8_t;
constexpr Phases kAnyPhase = 0b111;

struct ColumnTraits {
    Phases phases = kAnyPhase;   ///< seen from its pillar or service
    Phases of_mains = kAnyPhase; ///< seen from the main in front of it
    bool is_phase_open = false;  ///< several phases come to it, and none is recorded
    Certainty by_contactor = Certainty::possible; ///< goes out with the switching of its way
    Certainty by_core = Certainty::possible;      ///< goes out with a cable's switch core
    model::Control control{};                     ///< its own, or that recorded of its way or cable
};

/// Of each column of the graph.
[[nodiscard]] std::vector<ColumnTraits> column_traits(const Inputs& inputs,
                                                      const SupplyGraph& graph);

/// Whether what a loss takes away is what a column lives on, if the place lies before the column.
[[nodiscard]] Certainty covers(const Loss& loss, const ColumnTraits& column);

/// Whether the switching of a place is a contactor's, and not the core of a cable.
[[nodiscard]] constexpr bool has_contactor(PlaceKind kind) noexcept {
    return kind == PlaceKind::way || kind == PlaceKind::supply || kind == PlaceKind::busbar;
}
/// Whether a place lies on the distributor's mains, of three phases of their own.
[[nodiscard]] constexpr bool is_of_mains(PlaceKind kind) noexcept {
    return kind == PlaceKind::main || kind == PlaceKind::substation;
}

} // namespace loopwalk::outage
