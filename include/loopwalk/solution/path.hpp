// What adds up along the way from the supply's terminals to a vertex.
#pragma once

#include "loopwalk/impedance/source.hpp"
#include "loopwalk/network/network.hpp"

#include <limits>
#include <vector>

namespace loopwalk::solution {

using base::CableId;
using base::DeviceId;
using base::InfeedId;
using base::NodeId;
using base::VertexId;
using base::WayId;
using impedance::Assumptions;
using impedance::CablePerKm;
using impedance::EarthPathState;
using impedance::Impedances;
using impedance::Presence;
using impedance::Source;

/// Attributes whose absence makes bounds differ. The order is that in which they are named.
enum class Missing : std::uint8_t {
    cable_type,
    length,
    earth_bond,
    termination_side,
    ze,
    earthing,
    status,
};

/// How many attributes are missing along a path, and the only one if it is just one.
struct MissingOnPath {
    std::uint32_t count = 0;
    std::uint16_t kinds = 0; ///< bit per Missing
    [[nodiscard]] bool has(Missing m) const noexcept {
        return ((kinds >> static_cast<unsigned>(m)) & 1U) != 0;
    }
    void add(Missing m) noexcept {
        ++count;
        kinds = static_cast<std::uint16_t>(kinds | (1U << static_cast<unsigned>(m)));
    }
};

/// On the path to a section: where a conductor survives least heat, at the low and at the high
/// bound of what it survives. Invalid if no cable was passed.
struct WeakestSections {
    base::SectionId low, high;
};

/// The section whose conductor survives least on the way, at its low and at its high bound; the
/// farther of equals.
struct Weakest {
    WeakestSections at;
    double low_a2s = std::numeric_limits<double>::infinity();
    double high_a2s = std::numeric_limits<double>::infinity();
    void add(base::SectionId section, const base::Bounds<base::AmpereSquaredSecond>& withstand);
    void merge(const Weakest& other);
};

struct Path {
    Impedances z; ///< without the source
    double run_m = 0.0;
    std::uint32_t hops = 0;
    bool through_column = false;
    EarthPathState earth = EarthPathState::intact;
    Presence neutral = Presence::yes;
    MissingOnPath missing;
    base::Maybe<base::Ampere> ampacity;
    bool ampacity_known = true;
    NodeId upstream; ///< invalid in a loop, where there is no one way back
    InfeedId infeed;
    bool is_source_known = false; ///< false on a main that no substation is recorded for
    base::Ohm source_high{};      ///< Ze at its high bound; 0 if nothing bounds it
    DeviceId device;
    WayId way;
    CableId last_cable;
    Weakest line, neutral_core, earth_path; ///< against heat
    /// Vertex of a looped block that several devices feed, with no further device on the way from
    /// there; invalid: one device protects.
    VertexId fed_at;
    VertexId exit_at; ///< vertex where it left the last block that several devices feed

    void protect(DeviceId by) {
        device = by;
        fed_at = {};
    }
};

/// What one section adds to a path, as bounds.
struct PieceOhms {
    Impedances z; ///< of its whole length
    EarthPathState earth = EarthPathState::intact;
    Presence neutral = Presence::yes;
    bool is_complete = false; ///< type and length recorded: bounds are conditions, not gaps
};

/// Steps along edges; holds what each kilometre of each cable type adds.
class PathMaker {
  public:
    PathMaker(const model::Layers& layers, const catalogue::Catalogue& catalogue,
              const config::Rules& rules, const Assumptions& assumptions,
              const network::Network& network);

    [[nodiscard]] Path start(InfeedId id, const Source* source) const;
    /// The path one edge further, from vertex `from` to vertex `to`.
    [[nodiscard]] Path step(const Path& path, VertexId from, VertexId to, base::EdgeId edge) const;

    /// Notes on a path what a section's records lack and limit; no ohms and no metres.
    void pass_records(Path& path, base::SectionId id) const;
    /// Adds what the records of a whole block lack and limit.
    static void merge_records(Path& path, const Path& block);
    [[nodiscard]] PieceOhms ohms_of(base::SectionId id) const;
    /// In a loop with more than two cables a fused joint's fuse protects nothing that can be told.
    void clear_unclear_joints() { m_unclear_joints.clear(); }
    void mark_unclear_joint(base::NodeId node) { m_unclear_joints.push_back(node); }

    /// Length of a section: exact where laid is recorded, else a range (method.md section 2).
    [[nodiscard]] base::Bounds<base::Metre> length(const network::Section& section) const;
    /// Impedance of a kilometre of a section's cable, armour left out where it is not bonded.
    [[nodiscard]] const CablePerKm& per_km_of(base::SectionId section) const;
    /// The same if its cable were of a type.
    [[nodiscard]] const CablePerKm& per_km_if(base::SectionId section,
                                              base::CableTypeId type) const;

  private:
    void pass_node(Path& path, VertexId from, VertexId to) const;
    void note_status(Path& path, base::NodeId id) const;
    void pass_link(Path& path, VertexId from, const network::Link& link) const;
    void pass_section(Path& path, base::SectionId id) const;
    [[nodiscard]] bool takes_an_end(base::NodeId node) const;

    const model::Layers& m_layers;
    const config::Rules& m_rules;
    const Assumptions& m_assumptions;
    const network::Network& m_net;
    std::vector<CablePerKm> m_bonded, m_unbonded; ///< by cable type
    std::vector<base::NodeId> m_unclear_joints;   ///< of the component at hand
};

} // namespace loopwalk::solution
