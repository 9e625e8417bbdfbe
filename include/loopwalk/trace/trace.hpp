// The trace: what feeds each vertex of the network, by which path, and where loops are.
//
// Network -> Trace. Iterative, with parallel cables and self-loops right (an edge is told from
// another by its index, never by its ends). A component is everything joined by conducting edges,
// sources not passed through: two ways of one pillar are in one component only if cables join them.
// docs/method.md section 1.
#pragma once

#include "loopwalk/base/finding.hpp"
#include "loopwalk/base/progress.hpp"
#include "loopwalk/model/layers.hpp"
#include "loopwalk/network/network.hpp"

#include <span>
#include <vector>

namespace loopwalk::trace {

using base::ComponentId;
using base::EdgeId;
using base::InfeedId;
using base::SupplyId;
using base::VertexId;

/// How many sources feed a component, and of what kind.
enum class Feeding : std::uint8_t {
    none,    ///< no source
    one,     ///< one infeed: a way or an end on a main
    ring,    ///< several ways of one supply joined by cables
    several, ///< several supplies (or mains) joined
};

/// What conducting edges join.
struct Component {
    std::uint32_t first = 0; ///< stretch of Trace::order: the first is an infeed if there is one
    std::uint32_t count = 0; ///< vertices of that stretch
    std::uint32_t first_infeed = 0; ///< stretch of Trace::infeeds
    std::uint32_t infeed_count = 0; ///< 0: nothing feeds it
    std::uint32_t columns = 0;      ///< column nodes in it
    std::uint32_t loops = 0;        ///< closed loops, also those through the supply's busbar
    Feeding feeding{};              ///< by its infeeds
};

/// What feeds what. Vectors by vertex or edge have an entry for all of the network's.
struct Trace {
    std::vector<Component> components;     ///< fed ones first, in the order of their first infeed
    std::vector<InfeedId> infeeds;         ///< by component
    std::vector<VertexId> order;           ///< each component's vertices, parents before children
    std::vector<VertexId> parent;          ///< by vertex; invalid at the start of a component
    std::vector<EdgeId> parent_edge;       ///< by vertex
    std::vector<ComponentId> component_of; ///< by vertex; invalid: no edge touches it, no infeed
    std::vector<std::uint8_t> looped;      ///< by edge: on a closed loop
    std::vector<std::uint8_t> clean; ///< by vertex: one infeed and no looped edge on the path to it

    /// Of a component: its infeed first, parents before children.
    [[nodiscard]] std::span<const VertexId> vertices(const Component& c) const {
        return {order.data() + c.first, c.count};
    }
    /// Of a component, ascending.
    [[nodiscard]] std::span<const InfeedId> infeeds_of(const Component& c) const {
        return {infeeds.data() + c.first_infeed, c.infeed_count};
    }
    /// Of a component of this trace.
    [[nodiscard]] ComponentId id_of(const Component& c) const {
        return ComponentId(static_cast<std::size_t>(&c - components.data()));
    }
    /// The component of a vertex; null if it has none.
    [[nodiscard]] const Component* find(VertexId v) const {
        const ComponentId c = component_of[v.index()];
        return c.is_valid() ? &components[c.index()] : nullptr;
    }
};

/// Cost: linear in vertices and edges.
[[nodiscard]] Trace trace(const model::Layers& layers, const network::Network& network,
                          base::Progress& progress);

/// Reports not-traced, fed-twice, supplies-joined, phases-joined, ways-joined and
/// two-phases-in-column.
void report_feeding(const model::Layers& layers, const network::Network& network,
                    const Trace& trace, base::FindingSink& findings);

/// Vertex at which a column is fed: its loop side where that is reached, else its fused side;
/// invalid if the column has no place.
[[nodiscard]] VertexId column_vertex(const network::Network& network, const Trace& trace,
                                     base::ColumnId column);

/// A column's component with at least one infeed, or null: not traced.
[[nodiscard]] const Component* fed_component(const network::Network& network, const Trace& trace,
                                             base::ColumnId column);

/// Gaps in the order of the output: most columns fed first, then by distance and ids.
struct RankedGap {
    std::uint32_t gap = 0;        ///< index in Snapped::gaps
    std::uint32_t would_feed = 0; ///< columns that closing it would feed
};
/// All gaps of the network, in that order. Cost: linear in gaps and components.
[[nodiscard]] std::vector<RankedGap> rank_gaps(const model::Layers& layers,
                                               const network::Network& network, const Trace& trace);

} // namespace loopwalk::trace
