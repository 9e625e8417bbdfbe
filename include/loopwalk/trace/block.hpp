// A looped block: everything that closed loops join into one, with what feeds it.
//
// Blocks are the two-edge-connected parts of a component, all infeeds taken as one. A block hangs
// from one vertex (its gate) or holds the infeeds of the component. Vertices of the network that a
// fuse divides are split here, so that every device lies on a link between two local vertices.
#pragma once

#include "loopwalk/base/disjoint_sets.hpp"
#include "loopwalk/trace/trace.hpp"

#include <limits>
#include <span>
#include <vector>

namespace loopwalk::trace {

using LocalVertex = std::uint32_t; ///< Number of a vertex within its block, from 0.
constexpr LocalVertex kNoVertex = std::numeric_limits<LocalVertex>::max(); ///< stands for none

/// A part of a component in which every edge lies on a closed loop. Positions in the vectors are
/// the numbers that others use.
struct Block {
    /// A piece of cable in the loop.
    struct Section {
        base::SectionId id;                       ///< of the network
        LocalVertex a = kNoVertex, b = kNoVertex; ///< at the section's `from` and `to`
    };
    /// Conducts without impedance; opened by its device if it has one.
    struct Link {
        LocalVertex a = kNoVertex, b = kNoVertex; ///< the vertices that it joins
        base::DeviceId device;                    ///< invalid: nothing opens it
    };
    /// Terminals of a supply, or of an end on a main; or the gate.
    struct Terminal {
        LocalVertex vertex = kNoVertex; ///< held at the source's potential
        InfeedId infeed;                ///< its first; invalid at a gate
    };
    std::vector<VertexId> vertices;       ///< of the network, by local vertex
    std::vector<VertexId> unclear_joints; ///< fused, but nobody can tell what lies behind
    std::vector<Section> sections;        ///< in the order of the trace
    std::vector<Link> links;              ///< inside assets
    std::vector<Terminal> terminals;      ///< one at a gate; else one for each supply or main
    VertexId gate;                        ///< invalid where the block holds the infeeds

    /// One vertex feeds it; else the infeeds lie in it.
    [[nodiscard]] bool has_gate() const noexcept { return gate.is_valid(); }
};

/// Finds the blocks of a component.
class BlockFinder {
  public:
    /// Both outlive it. Cost of making it: linear in vertices.
    BlockFinder(const network::Network& network, const Trace& trace);

    /// Blocks of a component, in the order of their first vertex in the trace.
    [[nodiscard]] std::vector<Block> blocks_of(const Component& component);

    /// Number of the block, among those found last, that a vertex lies in; all ones: in none.
    [[nodiscard]] std::uint32_t block_of(VertexId v) const { return m_block[v.index()]; }
    /// Number of a vertex in that block.
    [[nodiscard]] LocalVertex local(VertexId v) const { return m_local[v.index()]; }
    /// not in any block
    static constexpr std::uint32_t kNone = std::numeric_limits<std::uint32_t>::max();

  private:
    void join_looped(const Component& component);
    void number_vertices(const Component& component, std::vector<Block>& blocks);
    void add_edges(const Component& component, std::vector<Block>& blocks);
    void add_infeeds(const Component& component, std::vector<Block>& blocks);
    void split_fused_joints(Block& block) const;
    static void split(Block& block, LocalVertex joint, base::DeviceId device);

    const network::Network& m_net;
    const Trace& m_trace;
    base::DisjointSets m_looped;        ///< vertices, by the closed loops they lie on
    std::vector<std::uint32_t> m_block; ///< by vertex
    std::vector<LocalVertex> m_local;   ///< by vertex
};

} // namespace loopwalk::trace
