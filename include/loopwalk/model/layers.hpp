// The council's records as trusted, plain data: what input hands to the later stages.
//
// Every vector is in canonical order (id text, then geometry, then attributes), so the order of
// features in a file changes nothing. Coordinates are metres in the working coordinate system.
// Attributes that only travel to the output are not held here.
#pragma once

#include "loopwalk/base/finding.hpp"
#include "loopwalk/base/id.hpp"
#include "loopwalk/base/point.hpp"
#include "loopwalk/base/quantity.hpp"
#include "loopwalk/base/text_pool.hpp"

#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

namespace loopwalk::model {

using base::Ampere;
using base::AssetLayer;
using base::CableTypeId;
using base::FuseTypeId;
using base::Maybe;
using base::Metre;
using base::Number;
using base::Ohm;
using base::PartId;
using base::Point2;
using base::TextId;
using base::Volt;
using base::Watt;

/// What stands there; a bollard or sign is fed like a column.
enum class ColumnKind : std::uint8_t { unknown, column, sign, bollard, beacon, shelter };
/// Who owns the supply of a column, or a cable.
enum class Owner : std::uint8_t { unknown, council, distributor };
/// What the records say a column hangs on.
enum class StatedFeed : std::uint8_t { none, main, pillar, column };
/// Of a way, column or load on a three-phase supply.
enum class Phase : std::uint8_t { unknown, l1, l2, l3 };
/// How lamps are switched.
enum class Control : std::uint8_t {
    unknown,
    permanent,
    own_photocell,
    group_switched,
    switch_core
};
/// Whether an asset is in use. A blank counts as in service.
enum class Status : std::uint8_t {
    in_service,
    proposed,
    removed,
    disconnected,
    unclear ///< a word that nobody explained
};
/// Which poles a cut-out's fuses stand in.
enum class Poles : std::uint8_t { unknown, one, two, neutral_fused };
/// System earthing (BS 7671 part 2).
enum class Earthing : std::uint8_t { unknown, tn_c_s, tn_s, tt };
/// What a supply is; a section pillar is no source.
enum class SupplyKind : std::uint8_t { unknown, pillar, section_pillar, service, substation };
/// Services and substations are the distributor's.
[[nodiscard]] constexpr bool is_distributors(SupplyKind kind) noexcept {
    return kind == SupplyKind::service || kind == SupplyKind::substation;
}
/// Where a source's figure comes from, the strongest first.
enum class Basis : std::uint8_t { measured, declared, assumed };
/// What a joint is.
enum class JointKind : std::uint8_t { unknown, straight, tee, pot_end, fused };
/// Whether a cable is connected at an asset.
enum class CableEndState : std::uint8_t { connected, open };
/// Which side of the cut-out's fuse a cable is on.
enum class CutOutSide : std::uint8_t { loop, fused, unknown };
/// Whether the armour or sheath is joined to the asset's earth.
enum class EarthBond : std::uint8_t { bonded, not_bonded, unknown };
/// Where a reading was taken.
enum class TakenAt : std::uint8_t { unknown, cut_out, lantern };
/// How a loop was tested.
enum class TestMethod : std::uint8_t { unknown, high_current, no_trip };

/// Removed and disconnected assets do not conduct; proposed ones count. What is unclear is
/// followed, since it may be live, and nothing that depends on it is predicted to meet a limit.
[[nodiscard]] constexpr bool conducts(Status s) noexcept {
    return s != Status::removed && s != Status::disconnected;
}

/// A protective device as recorded.
struct FuseRecord {
    /// What is recorded as its type.
    enum class Word : std::uint8_t {
        missing,   ///< no type recorded
        none,      ///< an isolator or solid link: protects nothing
        known,     ///< `type` is a row of the catalogue
        not_found, ///< a word that the catalogue does not have; `text` keeps it
    };
    Word word = Word::missing; ///< what the record says
    FuseTypeId type;           ///< valid if `known`
    TextId text;               ///< the word as recorded, if `not_found`
    Maybe<Ampere> rating;      ///< as printed on it; absent: not recorded
    /// Neither a type nor a rating.
    [[nodiscard]] bool is_absent() const noexcept {
        return word == Word::missing && !rating.has_value();
    }
    friend bool operator==(const FuseRecord&, const FuseRecord&) = default;
};

/// A cable type as recorded: `type` if the catalogue has it, else the word in `text` (null: none).
struct CableTypeRecord {
    CableTypeId type; ///< invalid: none, or unknown to the catalogue
    TextId text;      ///< the word as recorded
    friend bool operator==(const CableTypeRecord&, const CableTypeRecord&) = default;
};

/// A row of `columns`; unknown and absent where nothing is recorded.
struct Column {
    TextId id;                  ///< `lw_id`: unique among columns
    TextId circuit;             ///< label of its way; null: none
    TextId road;                ///< text; null: none
    TextId area;                ///< ward or round; null: none
    std::int64_t fid = 0;       ///< feature id in the dataset
    Point2 place;               ///< meaningless unless has_place
    bool has_place = false;     ///< false: null, empty or unusable geometry
    ColumnKind kind{};          ///< what it is
    Owner owner{};              ///< of its supply
    StatedFeed feed{};          ///< as stated, not as traced
    Phase phase{};              ///< of its lamp
    Control control{};          ///< of its lamp
    Poles poles{};              ///< of its cut-out
    Earthing earthing{};        ///< its own, where it differs from the supply's
    Status status{};            ///< in use or not
    FuseRecord fuse;            ///< of the cut-out
    CableTypeRecord tail_type;  ///< cable from cut-out to lantern
    Maybe<Watt> load;           ///< circuit watts with gear; 0 is a value
    Maybe<Number> power_factor; ///< in (0, 1]; negative is leading
    Maybe<Number> breaking_ka;  ///< of the cut-out, kA
    Maybe<Number> rcd_ma;       ///< residual current of its own RCD, mA; 0: recorded as none
    Maybe<base::Second> limit;  ///< disconnection time of its own
    Maybe<Metre> tail;          ///< length of the tail
    Maybe<Metre> height;        ///< of the lantern above the ground
    Maybe<Ohm> electrode;       ///< resistance of its own electrode
};

/// Parts of all cables lie one behind the other in Layers::parts and ::vertices.
struct Cable {
    TextId id;                    ///< `lw_id`: unique among cables
    TextId circuit;               ///< label of its way; null: none
    std::int64_t fid = 0;         ///< feature id in the dataset
    std::uint32_t first_part = 0; ///< position in Layers::parts
    std::uint32_t part_count = 0; ///< 0: no usable geometry
    CableTypeRecord type;         ///< of all its parts
    Maybe<Metre> laid;            ///< recorded length, > 0
    Owner owner{};                ///< whose it is
    Control control{};            ///< of what it feeds
    Status status{};              ///< in use or not
};

/// One line of a cable, running from its end with the smaller (x, y); parts of a cable are sorted
/// by that end. Length is on the ground (geodesic where the coordinate system allows), as drawn.
struct Part {
    base::CableId cable;            ///< whose line it is
    std::uint32_t first_vertex = 0; ///< position in Layers::vertices
    std::uint32_t vertex_count = 0; ///< >= 2
    Metre drawn;                    ///< > 0
    Metre planar;                   ///< the same line in working coordinates; measures refer to it
};

/// A row of `supplies`: figures hold at its outgoing terminals.
struct Supply {
    TextId id;                          ///< `lw_id`: unique among supplies
    std::int64_t fid = 0;               ///< feature id in the dataset
    Point2 place;                       ///< meaningless unless has_place
    bool has_place = false;             ///< false: null, empty or unusable geometry
    SupplyKind kind{};                  ///< what it is
    Earthing earthing{};                ///< that it offers
    Status status{};                    ///< in use or not
    Maybe<Number> phases;               ///< 1 or 3
    Maybe<Ohm> ze, ze_r, ze_x;          ///< external loop impedance: its size, or R and X
    Basis ze_basis = Basis::declared;   ///< of those figures; declared where nothing is said
    Maybe<Number> pscc_ka, pscc3_ka;    ///< prospective current, single-phase and three-phase, kA
    Basis pscc_basis = Basis::declared; ///< of those figures; declared where nothing is said
    Maybe<Volt> voltage;                ///< line to earth
    FuseRecord fuse;                    ///< its own device
    Maybe<Number> rcd_ma;               ///< residual current of its RCD, mA; 0: recorded as none
    /// Of TT: at the pillar, not that of the source; the worse of record and reading.
    Maybe<Ohm> electrode;
    /// Rating in kVA, impedance and its resistive part in %
    Maybe<Number> transformer_kva, transformer_z_pct, transformer_r_pct;
    Maybe<Ohm> ze_read;         ///< loop impedance that a test at the supply read, not TT
    Maybe<Number> pscc_read_ka; ///< prospective current likewise
};

/// A row of `ways`.
struct WayRow {
    TextId supply_id;          ///< as recorded
    TextId way;                ///< its name at that supply
    TextId circuit;            ///< label of its cables; null: none
    std::int64_t fid = 0;      ///< feature id in the dataset
    Phase phase{};             ///< unknown: all three on a three-phase supply
    Control control{};         ///< of what it feeds
    FuseRecord fuse;           ///< its device
    Maybe<Number> rcd_ma;      ///< residual current of its RCD, mA; 0: recorded as none
    Maybe<base::Second> limit; ///< disconnection time of its own
};

/// A row of `joints`.
struct Joint {
    TextId id;              ///< `lw_id`: unique among joints
    std::int64_t fid = 0;   ///< feature id in the dataset
    Point2 place;           ///< meaningless unless has_place
    bool has_place = false; ///< false: null, empty or unusable geometry
    JointKind kind{};       ///< what it is
    FuseRecord fuse;        ///< of a fused joint
};

/// A row of `mains`: a distributor's street main.
struct Main {
    TextId id;                         ///< `lw_id`: unique among mains
    std::int64_t fid = 0;              ///< feature id in the dataset
    std::vector<base::Polyline> lines; ///< working coordinates
    std::vector<Metre> drawn;          ///< of each line, on the ground
    CableTypeRecord type;              ///< of all its lines
    Maybe<Metre> laid;                 ///< recorded length of all its lines, > 0
    Maybe<Number> customers;           ///< services on it
};

/// A row of `terminations`: how one cable ends at one asset.
struct Termination {
    TextId asset_id;          ///< as recorded
    TextId cable_id;          ///< as recorded
    bool has_layer = false;   ///< asset_layer is recorded
    AssetLayer asset_layer{}; ///< layer of the asset; meaningless unless has_layer
    CableEndState state{};    ///< connected where nothing is said
    CutOutSide side{};        ///< the loop side where nothing is said
    EarthBond earth{};        ///< bonded where nothing is said
};

/// A row of `loads`: one of several loads in a column.
struct Load {
    TextId column_id;           ///< as recorded
    TextId use;                 ///< text, such as a socket or a charger; null: none
    Maybe<Watt> load;           ///< circuit watts with gear; 0 is a value
    Maybe<Number> power_factor; ///< in (0, 1]; negative is leading
    FuseRecord fuse;            ///< its own fuse, in place of the column's
    Phase phase{};              ///< unknown: its column's
    Maybe<Number> rcd_ma;       ///< residual current of its RCD, mA; 0: recorded as none
    Maybe<base::Second> limit;  ///< disconnection time of its own
};

/// A row of `readings`: one test.
struct Reading {
    TextId asset_id;                ///< as recorded
    bool has_layer = false;         ///< asset_layer is recorded
    AssetLayer asset_layer{};       ///< layer of the asset; meaningless unless has_layer
    TakenAt taken_at{};             ///< cut-out or lantern
    TestMethod method{};            ///< decides how far it may be out
    std::int32_t taken_on = 0;      ///< year * 10000 + month * 100 + day; 0: not recorded
    Maybe<Ohm> zs, ra;              ///< loop impedance; resistance of an electrode
    Maybe<Number> pscc_ka;          ///< prospective current, kA
    Maybe<base::Celsius> conductor; ///< temperature of the conductors while it was taken
};

/// A reading of an electrode that is used in the place of its record, which is lower or blank.
struct ElectrodeReading {
    AssetLayer layer{};      ///< supplies or columns
    std::uint32_t index = 0; ///< in that layer
    Ohm read;                ///< larger than the record
    Maybe<Ohm> recorded;     ///< less than `read`
};

/// Everything that was read. `has_layer` tells an absent layer from an empty one.
struct Layers {
    base::TextPool text; ///< every text of the records that is kept
    std::array<bool, base::kAssetLayerCount> has_layer{}; ///< by AssetLayer
    std::vector<Column> columns;                          ///< in canonical order, as all below
    std::vector<Cable> cables;                            ///< likewise
    std::vector<Part> parts;                              ///< by cable
    std::vector<Point2> vertices;                         ///< by part
    std::vector<Supply> supplies;                         ///< likewise
    std::vector<WayRow> ways;                             ///< likewise
    std::vector<Joint> joints;                            ///< likewise
    std::vector<Main> mains;                              ///< likewise
    std::vector<Termination> terminations;                ///< likewise
    std::vector<Load> loads;                              ///< likewise
    std::vector<Reading> readings;                        ///< likewise
    std::vector<ElectrodeReading> electrodes_read;        ///< sorted by layer and index

    /// Its vertices, two or more. Valid as long as the layers.
    [[nodiscard]] std::span<const Point2> line(const Part& part) const noexcept {
        return {vertices.data() + part.first_vertex, part.vertex_count};
    }
    /// In their order along the cable. Valid as long as the layers.
    [[nodiscard]] std::span<const Part> parts_of(const Cable& cable) const noexcept {
        return {parts.data() + cable.first_part, cable.part_count};
    }
    /// The text of an id; empty for null.
    [[nodiscard]] std::string id_text(TextId id) const { return std::string(text.view(id)); }
};

} // namespace loopwalk::model
