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
    std::uint32_t count = 0; ///< how many attributes lack, each asset's counted
    std::uint16_t kinds = 0; ///< bit per Missing
    /// Whether one of that kind lacks.
    [[nodiscard]] bool has(Missing m) const noexcept {
        return ((kinds >> static_cast<unsigned>(m)) & 1U) != 0;
    }
    /// Counts one of that kind.
    void add(Missing m) noexcept {
        ++count;
        kinds = static_cast<std::uint16_t>(kinds | (1U << static_cast<unsigned>(m)));
    }
};

/// On the path to a section: where a conductor survives least heat, at the low and at the high
/// bound of what it survives. Invalid if no cable was passed.
struct WeakestSections {
    base::SectionId low, high; ///< invalid: no cable was passed
};

/// The section whose conductor survives least on the way, at its low and at its high bound; the
/// farther of equals.
struct Weakest {
    WeakestSections at;                                        ///< where that is
    double low_a2s = std::numeric_limits<double>::infinity();  ///< k^2 S^2 there, low bound, A2s
    double high_a2s = std::numeric_limits<double>::infinity(); ///< k^2 S^2 there, high bound, A2s
    /// The next section on the way.
    void add(base::SectionId section, const base::Bounds<base::AmpereSquaredSecond>& withstand);
    /// Takes over what another way found, where it is less.
    void merge(const Weakest& other);
};

/// Everything that adds up between a source's terminals and a vertex.
struct Path {
    Impedances z;                                  ///< without the source
    double run_m = 0.0;                            ///< metres of cable, laid where recorded
    std::uint32_t hops = 0;                        ///< columns passed, one at the end included
    bool through_column = false;                   ///< one of them lies before the end
    EarthPathState earth = EarthPathState::intact; ///< the worst on the way
    Presence neutral = Presence::yes;              ///< the worst on the way
    MissingOnPath missing;                         ///< attributes of the way and of its source
    /// smallest rating of the cables passed; absent before the first
    base::Maybe<base::Ampere> ampacity;
    bool ampacity_known = true;             ///< no cable without a rating was passed
    NodeId upstream;                        ///< invalid in a loop, where there is no one way back
    InfeedId infeed;                        ///< where it starts
    bool is_source_known = false;           ///< false on a main that no substation is recorded for
    base::Ohm source_high{};                ///< Ze at its high bound; 0 if nothing bounds it
    DeviceId device;                        ///< nearest one passed; invalid: none since the source
    WayId way;                              ///< nearest one passed
    CableId last_cable;                     ///< so that each cable's attributes count once
    Weakest line, neutral_core, earth_path; ///< against heat
    /// Vertex of a looped block that several devices feed, with no further device on the way from
    /// there; invalid: one device protects.
    VertexId fed_at;
    VertexId exit_at; ///< vertex where it left the last block that several devices feed

    /// From here on a single device protects.
    void protect(DeviceId by) {
        device = by;
        fed_at = {};
    }
};

/// What one section adds to a path, as bounds.
struct PieceOhms {
    Impedances z;                                  ///< of its whole length
    EarthPathState earth = EarthPathState::intact; ///< along it
    Presence neutral = Presence::yes;              ///< along it
    bool is_complete = false; ///< type and length recorded: bounds are conditions, not gaps
};

/// Steps along edges; holds what each kilometre of each cable type adds.
class PathMaker {
  public:
    /// All outlive it. Cost: linear in the catalogue's cables.
    PathMaker(const model::Layers& layers, const catalogue::Catalogue& catalogue,
              const config::Rules& rules, const Assumptions& assumptions,
              const network::Network& network);

    /// At an infeed; `source` null where no figures of it are known.
    [[nodiscard]] Path start(InfeedId id, const Source* source) const;
    /// The path one edge further, from vertex `from` to vertex `to`.
    [[nodiscard]] Path step(const Path& path, VertexId from, VertexId to, base::EdgeId edge) const;

    /// Notes on a path what a section's records lack and limit; no ohms and no metres.
    void pass_records(Path& path, base::SectionId id) const;
    /// Adds what the records of a whole block lack and limit.
    static void merge_records(Path& path, const Path& block);
    /// Of a section as recorded.
    [[nodiscard]] PieceOhms ohms_of(base::SectionId id) const;
    /// In a loop with more than two cables a fused joint's fuse protects nothing that can be told.
    void clear_unclear_joints() { m_unclear_joints.clear(); }
    /// Until the next clear_unclear_joints().
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
