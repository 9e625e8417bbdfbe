// Snapping: drawn lines and points become one network (method.md section 1).
//
// Promises, each with a property test:
//  1. no point moves further than snap_m;
//  2. snapping the result again changes nothing;
//  3. every piece knows its cable, and the pieces of a cable add up to it;
//  4. neither feature order nor line direction changes anything.
// Crossings never connect. A tie, or a candidate that a label contradicts or the rules do not
// admit, stays unconnected and is an `ambiguous-snap` finding. How promise 2 is kept:
// docs/snapping.md.
#pragma once

#include "loopwalk/base/finding.hpp"
#include "loopwalk/base/progress.hpp"
#include "loopwalk/model/layers.hpp"

#include <vector>

namespace loopwalk::network {

using base::CableId;
using base::NodeId;
using base::PartId;
using base::Point2;

/// What stands at a node.
enum class NodeKind : std::uint8_t {
    supply,
    column,
    joint,
    derived, ///< where cable ends meet, tee or hang loose
};

/// A place where sections end. Every supply, column and joint with a place has exactly one node,
/// also when no cable reaches it; `asset` is its index in the layer's vector.
struct Node {
    NodeKind kind{};         ///< what stands here
    std::uint32_t asset = 0; ///< derived: unused
    Point2 place;            ///< where its asset stands, or its ends meet
    CableId named_by;        ///< derived: smallest cable id that meets here,
    double named_at_m = 0.0; ///< and metres along it (laid or drawn, as in Section::length)
};

/// A stretch of a cable between two nodes. Measures are planar metres along the part as drawn.
struct Section {
    CableId cable;             ///< whose stretch it is
    PartId part;               ///< the line of that cable
    std::uint32_t number = 0;  ///< 1, 2, ... along the cable
    NodeId from, to;           ///< in the order of the cable's numbering
    double from_measure = 0.0; ///< planar metres along the part
    double to_measure = 0.0;   ///< likewise, larger
    base::Metre drawn;         ///< share of the part's drawn (ground) length
};

/// What became of an end, or of a cable's middle.
enum class MoveKind : std::uint8_t { end_to_asset, end_to_end, cut_at_asset, tee_assumed };

/// Something snapping altered: a point of a cable went from `from` to `to`.
struct Move {
    CableId cable;        ///< that was altered
    MoveKind kind{};      ///< how
    NodeId node;          ///< where it went
    Point2 from, to;      ///< before and after, working coordinates
    double moved_m = 0.0; ///< distance between the two, metres; at most snap_m
};

/// A cable end that hangs loose after snapping.
struct LooseEnd {
    CableId cable;          ///< whose end
    NodeId node;            ///< where it hangs
    bool ambiguous = false; ///< already reported as ambiguous-snap
};

/// A derived node where a cable end lies within snap_m of a line of `mains`: fed from there.
/// Such an end is not loose. The nearest main counts, of equals the one with the smaller id.
struct MainTap {
    NodeId node;       ///< of the cable end
    base::MainId main; ///< of the records
};

/// A miss: something within reach_m that could have been joined, but was not.
struct Gap {
    NodeId from;          ///< a loose end, or an asset that no cable reaches
    NodeId to;            ///< the nearest asset or end; invalid if the nearest is a cable's middle
    CableId to_cable;     ///< the cable whose middle is nearest; invalid if `to` is set
    base::PartId to_part; ///< that part of `to_cable`
    double to_measure = 0.0;     ///< planar metres along that part
    Point2 from_place, to_place; ///< the two ends of the miss, working coordinates
    double distance_m = 0.0;     ///< metres; at most reach_m
};

/// The records joined into nodes and sections. Positions in the vectors are the ids.
struct Snapped {
    std::vector<Node> nodes; ///< supplies, columns, joints (canonical order), then derived nodes
    std::vector<Section> sections;            ///< by cable, then number
    std::vector<std::uint32_t> first_section; ///< per cable, size cables + 1
    std::vector<Move> moves;                  ///< by cable
    std::vector<LooseEnd> loose_ends;         ///< by cable
    std::vector<LooseEnd> ends_at_nothing;    ///< those of them with nothing within reach, by cable
    std::vector<Gap> gaps;                    ///< each pair of nodes once
    std::vector<NodeId> column_node, supply_node, joint_node; ///< invalid where there is no place
    std::vector<MainTap> main_taps;                           ///< by node
};

/// Distances that decide what is joined.
struct SnapSettings {
    base::Metre snap{0.5};  ///< ends and assets closer than this are one point
    base::Metre reach{5.0}; ///< misses up to this far are gaps
};

/// Reports near-miss, tee-assumed, cut-assumed and ambiguous-snap.
/// Cost: O(n log n) for n vertices.
[[nodiscard]] Snapped snap(const model::Layers& layers, const SnapSettings& settings,
                           base::FindingSink& findings, base::Progress& progress);

/// Geometry of a section: its stretch of the cable as drawn, led to both nodes. From `from` to
/// `to`.
[[nodiscard]] base::Polyline section_line(const model::Layers& layers, const Snapped& snapped,
                                          const Section& section);

/// Text form of a node: the asset's id, or `cable_id@metres` (0.01 m) for a derived one.
[[nodiscard]] std::string node_name(const model::Layers& layers, const Node& node);

} // namespace loopwalk::network
