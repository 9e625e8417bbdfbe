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

using LocalVertex = std::uint32_t;
constexpr LocalVertex kNoVertex = std::numeric_limits<LocalVertex>::max();

struct Block {
    struct Section {
        base::SectionId id;
        LocalVertex a = kNoVertex, b = kNoVertex; ///< at the section's `from` and `to`
    };
    /// Conducts without impedance; opened by its device if it has one.
    struct Link {
        LocalVertex a = kNoVertex, b = kNoVertex;
        base::DeviceId device;
    };
    /// Terminals of a supply, or of an end on a main; or the gate.
    struct Terminal {
        LocalVertex vertex = kNoVertex;
        InfeedId infeed; ///< its first; invalid at a gate
    };
    std::vector<VertexId> vertices;       ///< of the network, by local vertex
    std::vector<VertexId> unclear_joints; ///< fused, but nobody can tell what lies behind
    std::vector<Section> sections;
    std::vector<Link> links;
    std::vector<Terminal> terminals;
    VertexId gate; ///< invalid where the block holds the infeeds

    [[nodiscard]] bool has_gate() const noexcept { return gate.is_valid(); }
};

/// Finds the blocks of a component.
class BlockFinder {
  public:
    BlockFinder(const network::Network& network, const Trace& trace);

    /// Blocks of a component, in the order of their first vertex in the trace.
    [[nodiscard]] std::vector<Block> blocks_of(const Component& component);

    /// Number of the block, among those found last, that a vertex lies in; all ones: in none.
    [[nodiscard]] std::uint32_t block_of(VertexId v) const { return m_block[v.index()]; }
    [[nodiscard]] LocalVertex local(VertexId v) const { return m_local[v.index()]; }
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
