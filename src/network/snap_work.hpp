// What the steps of snapping share. The rules, word for word: docs/snapping.md.
#pragma once

#include "loopwalk/gis/box_index.hpp"
#include "loopwalk/network/snap.hpp"

#include <algorithm>
#include <optional>
#include <span>
#include <vector>

namespace loopwalk::network::snapping {

using base::TextId;
using EndId = base::Id<struct EndTag>; ///< end of a part: 2 * part, or 2 * part + 1 for the last

/// Distances that differ by no more than this are equal: a tie. Metres.
inline constexpr double kTie = 1e-6;
/// Rounding: "within" a distance means up to this much more. Metres.
inline constexpr double kSlack = 1e-9;
/// Equally near places along a line that are no further apart than this are one: beside a bend the
/// distance to a point changes by less than kTie over a few millimetres. Metres.
inline constexpr double kSamePlace = 0.01;
/// Parts are searched in runs of so many segments, so that a long line has small boxes.
inline constexpr std::uint32_t kRunSegments = 8;

enum class EndOutcome : std::uint8_t {
    at_asset,
    derived,
    teed,      ///< at a derived node that rule 4 put on another cable
    ambiguous, ///< alone at a derived node, and reported
    idle,      ///< alone at a derived node; its cable does not conduct
};

struct End {
    NodeId node;
    EndOutcome outcome = EndOutcome::derived;
};

/// A place where a part is cut in two, led from `from` on the part to a node.
struct Cut {
    PartId part;
    double measure = 0.0;
    NodeId node;
    Point2 from;
    double moved = 0.0;
    MoveKind kind{};
};
/// Order along the parts; of equal measures by node.
[[nodiscard]] bool comes_before(const Cut& a, const Cut& b) noexcept;

enum class AmbiguityKind : std::uint8_t {
    equal_assets,   ///< an end with several nearest assets
    other_circuit,  ///< ends of different circuits close together
    close_ends,     ///< ends that could be joined in several ways
    not_admitted,   ///< passes an asset that other cables end at
    beside_end,     ///< passes an asset too close to where it ends
    tee_circuit,    ///< a tee into another circuit
    tee_equal,      ///< several cables to tee into
    tee_near_node,  ///< a tee that would lie beside another node
    tee_near_asset, ///< a tee whose lead would pass an asset
};

/// Something left unconnected because the record does not say which way it goes.
struct Ambiguity {
    CableId cable;
    AmbiguityKind kind{};
    Point2 place;
    double distance = 0.0; ///< to the candidate, metres
    NodeId node;           ///< the candidate, where it is an asset
    CableId other;         ///< where it is a cable
};

struct Work {
    Work(const model::Layers& records, const SnapSettings& settings);

    const model::Layers& layers;
    double snap; ///< metres, without slack
    double reach;
    std::uint32_t asset_count = 0; ///< nodes below this are assets
    Snapped out;
    std::vector<End> ends;
    std::vector<std::uint32_t> first_run; ///< per part, and the count
    std::vector<std::uint32_t> first_hit; ///< per run, and the count
    std::vector<NodeId> hits;             ///< assets within snap of the run, ascending
    std::vector<Cut> cuts;                ///< in order of comes_before
    std::vector<Ambiguity> ambiguities;
    std::optional<gis::BoxIndex> assets;

    [[nodiscard]] bool within_snap(double distance) const noexcept {
        return distance <= snap + kSlack;
    }
    [[nodiscard]] bool is_asset(NodeId node) const noexcept { return node.index() < asset_count; }
    [[nodiscard]] Point2 place(NodeId node) const noexcept { return out.nodes[node.index()].place; }
    [[nodiscard]] const model::Part& part(PartId id) const { return layers.parts[id.index()]; }
    [[nodiscard]] std::span<const Point2> line(PartId id) const { return layers.line(part(id)); }
    [[nodiscard]] const model::Cable& cable(CableId id) const { return layers.cables[id.index()]; }
    [[nodiscard]] TextId circuit(CableId id) const { return cable(id).circuit; }
    [[nodiscard]] bool conducts(CableId id) const { return model::conducts(cable(id).status); }
    [[nodiscard]] CableId cable_of(PartId id) const { return part(id).cable; }
    [[nodiscard]] CableId cable_of(EndId id) const { return cable_of(part_of(id)); }
    /// The end of the part as drawn.
    [[nodiscard]] Point2 drawn_place(EndId id) const;
    [[nodiscard]] End& end(EndId id) { return ends[id.index()]; }
    [[nodiscard]] const End& end(EndId id) const { return ends[id.index()]; }
    [[nodiscard]] std::uint32_t run_of(PartId id, std::size_t segment) const {
        return first_run[id.index()] + static_cast<std::uint32_t>(segment / kRunSegments);
    }
    /// The vertices of a run, the last of which is the first of the next run.
    [[nodiscard]] std::span<const Point2> run_line(PartId id, std::uint32_t run) const;
    [[nodiscard]] std::span<const NodeId> hits_of(std::uint32_t run) const {
        return {hits.data() + first_hit[run], first_hit[run + 1] - first_hit[run]};
    }
    NodeId add_derived_node(Point2 at);

    [[nodiscard]] static PartId part_of(EndId id) noexcept { return PartId(id.index() / 2); }
    [[nodiscard]] static EndId first_end(PartId id) noexcept { return EndId(id.index() * 2); }
    [[nodiscard]] static EndId last_end(PartId id) noexcept { return EndId(id.index() * 2 + 1); }
    [[nodiscard]] static EndId other_end(EndId id) noexcept { return EndId(id.index() ^ 1U); }
};

/// Two labels that cannot be the same circuit; a missing one contradicts nothing.
[[nodiscard]] inline bool contradict(TextId a, TextId b) noexcept {
    return a.is_valid() && b.is_valid() && a != b;
}

/// Cheap test that a segment cannot come within a distance of a point.
[[nodiscard]] inline bool is_far(Point2 p, Point2 a, Point2 b, double distance) noexcept {
    return p.x < std::min(a.x, b.x) - distance || p.x > std::max(a.x, b.x) + distance ||
           p.y < std::min(a.y, b.y) - distance || p.y > std::max(a.y, b.y) + distance;
}

[[nodiscard]] base::Box box_around(Point2 place, double distance) noexcept;
[[nodiscard]] base::Box widened(base::Box box, double distance) noexcept;

} // namespace loopwalk::network::snapping
