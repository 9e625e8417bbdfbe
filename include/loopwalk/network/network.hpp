// The network as it conducts: what snapping joined, minus open points and what is not in service,
// plus the ways, fuses and cut-outs that current passes on its way.
//
// A node of the drawing becomes one or more vertices of the graph: a source has one vertex for each
// way (an infeed of the trace), a section pillar a busbar and one vertex for each way, a column
// that feeds on through its own fuse one before and one behind it, and an open end a vertex of its
// own.
#pragma once

#include "loopwalk/base/finding.hpp"
#include "loopwalk/base/id.hpp"
#include "loopwalk/model/layers.hpp"
#include "loopwalk/network/snap.hpp"

#include <memory>
#include <optional>
#include <variant>
#include <vector>

namespace loopwalk::network {

using base::ColumnId;
using base::DeviceId;
using base::EdgeId;
using base::InfeedId;
using base::JointId;
using base::MainId;
using base::SectionId;
using base::SupplyId;
using base::TextId;
using base::VertexId;
using base::WayId;
using base::WayRowId;

/// Cables that leave a supply together (contract.md, "Ways").
struct Way {
    SupplyId supply; ///< that it leaves
    WayRowId row;    ///< invalid: no row, so behind the supply's fuse
    TextId name;     ///< the row's, else the circuit label, else the cable's id
    TextId circuit;  ///< label of its cables; null if unlabelled
    VertexId vertex; ///< where its cables start
    DeviceId device; ///< invalid: nothing of its own (an isolator, or nothing recorded at a
                     ///< section pillar): the device upstream protects
};

/// Where a device stands, which decides whose it is and what it protects.
enum class DeviceKind : std::uint8_t {
    way,         ///< fuse of a way, or the supply's own where the way has no row
    joint,       ///< a fused joint
    cut_out,     ///< fuse of a column through which further cables are fed
    distributor, ///< the main fuse before a direct service: not ours to judge
};

/// Something that opens a circuit, or is recorded in the place of it.
struct Device {
    DeviceKind kind{};               ///< where it stands
    std::uint32_t owner = 0;         ///< WayId, JointId or ColumnId by kind (distributor: WayId)
    model::FuseRecord fuse;          ///< as recorded; may be incomplete
    base::Maybe<base::Second> limit; ///< recorded on the way
};

/// What joins two vertices inside an asset.
enum class LinkKind : std::uint8_t { busbar, cut_out };

/// A conducting connection inside an asset that is no cable: it has no impedance but may hold
/// a device. Busbar: way vertex - busbar of a section pillar. Cut-out: loop side - fused side.
struct Link {
    LinkKind kind{}; ///< what it is
    VertexId a;      ///< busbar; loop side
    VertexId b;      ///< way; fused side
    WayId way;       ///< of a busbar; invalid at a cut-out
    DeviceId device; ///< invalid: none stands in it
};

/// Where current enters what is traced: at an outgoing way of a source, or where a cable ends on a
/// distributor's main. Asked by the functions of Network below, which give nothing where the other
/// kind was meant.
struct Infeed {
    VertexId vertex;                  ///< where the trace starts
    std::variant<WayId, MainId> from; ///< whose it is
};

/// Whose current an infeed brings: all ways of a supply are of one origin.
using Origin = std::variant<SupplyId, MainId>;

/// How the earth path is connected at the two ends of a section.
struct EarthEnds {
    bool broken = false;  ///< recorded as not bonded at one end or both
    bool unknown = false; ///< recorded as unknown at one end or both
};

/// An end that terminations record at an asset to which its cable is not drawn.
struct UndrawnEnd {
    base::NodeId node;    ///< the asset
    base::CableId cable;  ///< the cable
    bool is_open = false; ///< recorded as open there, else as connected
};

struct CsrHolder;

/// The graph that is traced: sections and links join vertices, vertices belong to nodes. Positions
/// in the vectors are the ids.
struct Network {
    Snapped snapped;                                ///< nodes, sections and what snapping did
    std::vector<Way> ways;                          ///< by supply, then name
    std::vector<Device> devices;                    ///< ways' own first, then joints and cut-outs
    std::vector<Link> links;                        ///< by asset
    std::vector<Infeed> infeeds;                    ///< at ways first, then on mains
    std::vector<base::NodeId> vertex_node;          ///< the node that a vertex belongs to
    std::vector<VertexId> section_from, section_to; ///< invalid: the section does not conduct
    std::vector<EarthEnds> earth_ends;              ///< per section
    std::vector<DeviceId> joint_device;             ///< per joint; invalid if not fused
    std::vector<VertexId> fused_side;               ///< per column; empty if no column has one
    std::vector<std::uint8_t> side_unknown;         ///< per section: on an unknown side of a fuse
    std::vector<UndrawnEnd> undrawn_ends;           ///< by node, then cable
    std::shared_ptr<const CsrHolder> graph; ///< edges by vertex, for those that walk it: csr.hpp

    /// Sections and links, conducting or not.
    [[nodiscard]] std::size_t edge_count() const noexcept {
        return snapped.sections.size() + links.size();
    }
    /// Whether an edge is a section of the same number; else it is a link.
    [[nodiscard]] bool is_section(EdgeId e) const noexcept {
        return e.index() < snapped.sections.size();
    }
    /// Of an edge that is no section.
    [[nodiscard]] const Link& link(EdgeId e) const {
        return links[e.index() - snapped.sections.size()];
    }
    /// Of a valid vertex.
    [[nodiscard]] base::NodeId node_of(VertexId v) const { return vertex_node[v.index()]; }
    /// Of a valid infeed.
    [[nodiscard]] VertexId vertex_of(InfeedId id) const { return infeeds[id.index()].vertex; }

    /// Outgoing way of an infeed; none on a main.
    [[nodiscard]] std::optional<WayId> way_of(InfeedId id) const;
    /// Main that an infeed lies on; none at a way.
    [[nodiscard]] std::optional<MainId> main_of(InfeedId id) const;
    /// Supply of an infeed's way; none on a main.
    [[nodiscard]] std::optional<SupplyId> supply_of(InfeedId id) const;
    /// Its supply, or its main.
    [[nodiscard]] Origin origin_of(InfeedId id) const;
    /// First device of an infeed; invalid where it has none of its own, as on a main.
    [[nodiscard]] DeviceId device_of(InfeedId id) const;
    /// Recorded row of an infeed's way; none on a main and where the way has no row.
    [[nodiscard]] std::optional<WayRowId> row_of(InfeedId id) const;
};

/// Reports way-without-cable, and bad-value for terminations that name nothing.
[[nodiscard]] Network build_network(const model::Layers& layers, Snapped snapped,
                                    base::FindingSink& findings);

/// Length used for a section: its share of the laid length where recorded (then exact), else of the
/// drawn length, which then is a lower bound (solution/path.hpp). Metres.
[[nodiscard]] base::Metre section_length(const model::Layers& layers, const Section& section);

} // namespace loopwalk::network
