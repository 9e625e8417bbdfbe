// Dark streets: what may have been lost where some columns are out and others are lit.
//
// Network, Trace and Figures -> Diagnosis. Only what hangs together with the named columns is
// looked at. Every place that current passes is a suspect: a column keeps its supply as long as one
// path to a source is left. docs/dark.md.
#pragma once

#include "loopwalk/figures/figures.hpp"

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

namespace loopwalk::outage {

using base::CableId;
using base::ColumnId;
using base::SectionId;

/// In the order in which they are looked at first where nothing else decides.
enum class PlaceKind : std::uint8_t {
    passed,      ///< a point inside an asset: no suspect
    way,         ///< fuse, link or RCD of an outgoing way; index: WayId
    cut_out,     ///< fuse of a column through which further cables are fed; ColumnId
    fused_joint, ///< JointId
    lamp,        ///< a column's own lamp, driver, cut-out fuse or tail; ColumnId
    tap,         ///< where a cable leaves a distributor's main; InfeedId
    section,     ///< a stretch of cable with the terminations at its two ends; SectionId
    terminals,   ///< of a column's cut-out, where its cables meet; ColumnId
    joint,       ///< JointId
    meeting,     ///< where cables meet and no joint is recorded; base::NodeId
    busbar,      ///< of a section pillar; SupplyId
    supply,      ///< all of a pillar or service: what feeds it, its main switch; SupplyId
    service,     ///< of a column without a cable on record, off the nearest main; ColumnId
    main,        ///< a distributor's main; MainId
    substation,  ///< SupplyId
    unrecorded,  ///< the source of columns that the records trace to none; ColumnId of the first
};
/// "way", "cut-out", ...: for machines.
[[nodiscard]] std::string_view place_kind_name(PlaceKind kind) noexcept;

/// Something that may have failed.
struct Place {
    PlaceKind kind = PlaceKind::passed; ///< what it is
    std::uint32_t index = 0;            ///< of the asset, by kind
    friend auto operator<=>(const Place&, const Place&) = default;
};

/// What is lost of a place: all of it, one phase, or only what is switched: the contactor,
/// photocell or time switch of a way or supply, the switch core of a cable.
enum class Scope : std::uint8_t { whole, switching, l1, l2, l3 };
/// "whole", "switching", "L1", ...
[[nodiscard]] std::string_view scope_name(Scope scope) noexcept;

/// A failure that puts out columns.
struct Loss {
    Place place;                ///< what has failed
    Scope scope = Scope::whole; ///< how much of it
    friend auto operator<=>(const Loss&, const Loss&) = default;
};

/// Losses that put out the same columns, so that no lamp can tell them apart.
struct Explanation {
    std::vector<std::vector<Loss>> alternatives; ///< each of one loss, or of two together
    std::vector<ColumnId> explained;             ///< of the columns that are out
    std::vector<ColumnId> unexplained;           ///< the others of them
    std::vector<ColumnId> contradicted;          ///< lit, and would be out
    /// Out or lit as seen only if what the records leave open (phase, switching, side of a cut-out)
    /// is so.
    std::vector<ColumnId> relying;
    std::vector<ColumnId> also_out;   ///< not named, and would be out too
    std::vector<ColumnId> may_be_out; ///< not named, and might be out too

    /// Explains every column that is out and contradicts none that is lit.
    [[nodiscard]] bool is_complete() const noexcept {
        return unexplained.empty() && contradicted.empty();
    }
};

/// A column whose lamp halves the explanations that are left.
struct NextColumn {
    ColumnId column;             ///< to look at next
    std::size_t left_if_out = 0; ///< explanations that then remain
    std::size_t left_if_lit = 0; ///< likewise
};

/// What was taken for granted.
struct Assumed {
    std::vector<ColumnId> not_traced;        ///< named, and no source was found in the records
    std::vector<ColumnId> by_near_main;      ///< named, taken as fed from the nearest main
    std::vector<ColumnId> phase_unknown;     ///< looked at, on several phases, none recorded
    std::vector<ColumnId> switching_unknown; ///< that are out, and nobody recorded how switched
    std::vector<CableId> status_unclear;     ///< taken as in service
    std::vector<CableId> proposed;           ///< taken as laid
    std::vector<SectionId> side_unknown;     ///< on an unknown side of a cut-out's fuse
    std::vector<ColumnId> fed_twice;         ///< that are out, and one loss of cable puts none out
};

/// What may have failed, given what was seen.
struct Diagnosis {
    std::vector<Explanation> singles; ///< all that explain something, the first first
    std::vector<Explanation>
        pairs; ///< complete ones, where no single loss is without relying on what is left open
    bool are_pairs_whole = true;      ///< false: more than could be searched
    std::size_t complete_singles = 0; ///< the first so many of `singles`
    std::vector<ColumnId> looked_at;  ///< all columns that hang together with the named ones
    std::optional<NextColumn> next;   ///< none where no lamp tells more
    Assumed assumed;                  ///< what it rests on
};

/// Whether the outage came or goes with switching: at dusk or dawn, or lamps that burn by day.
enum class FollowsSwitching : std::uint8_t { not_told, yes };

/// What people saw. A column stands in one list alone, once.
struct Seen {
    std::vector<ColumnId> out;                               ///< not empty
    std::vector<ColumnId> lit;                               ///< may be empty
    FollowsSwitching switching = FollowsSwitching::not_told; ///< as seen
};

/// What an outage is explained from; all of it outlives the answer.
struct Inputs {
    const model::Layers& layers;     ///< as read
    const network::Network& network; ///< the snapped one
    const trace::Trace& trace;       ///< what feeds what
    const figures::Figures& figures; ///< of the feeds of columns
    base::Metre reach; ///< a main so near is taken as that of a column without a cable
};

/// All complete explanations, where to look first at the front: what switches if it follows
/// switching, then single losses and pairs that rest on nothing unknown, then the others.
[[nodiscard]] std::vector<const Explanation*> in_order(const Diagnosis& diagnosis,
                                                       FollowsSwitching switching);

/// Cost: linear in the records, and for loops in the square of the places on them (bounded:
/// Diagnosis::are_pairs_whole).
[[nodiscard]] Diagnosis diagnose(const Inputs& inputs, const Seen& seen);

} // namespace loopwalk::outage
