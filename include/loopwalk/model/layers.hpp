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

enum class ColumnKind : std::uint8_t { unknown, column, sign, bollard, beacon, shelter };
enum class Owner : std::uint8_t { unknown, council, distributor };
enum class StatedFeed : std::uint8_t { none, main, pillar, column };
enum class Phase : std::uint8_t { unknown, l1, l2, l3 };
enum class Control : std::uint8_t {
    unknown,
    permanent,
    own_photocell,
    group_switched,
    switch_core
};
enum class Status : std::uint8_t {
    in_service,
    proposed,
    removed,
    disconnected,
    unclear ///< a word that nobody explained
};
enum class Poles : std::uint8_t { unknown, one, two, neutral_fused };
enum class Earthing : std::uint8_t { unknown, tn_c_s, tn_s, tt };
enum class SupplyKind : std::uint8_t { unknown, pillar, section_pillar, service, substation };
/// Services and substations are the distributor's.
[[nodiscard]] constexpr bool is_distributors(SupplyKind kind) noexcept {
    return kind == SupplyKind::service || kind == SupplyKind::substation;
}
enum class Basis : std::uint8_t { measured, declared, assumed };
enum class JointKind : std::uint8_t { unknown, straight, tee, pot_end, fused };
enum class CableEndState : std::uint8_t { connected, open };
enum class CutOutSide : std::uint8_t { loop, fused, unknown };
enum class EarthBond : std::uint8_t { bonded, not_bonded, unknown };
enum class TakenAt : std::uint8_t { unknown, cut_out, lantern };
enum class TestMethod : std::uint8_t { unknown, high_current, no_trip };

/// Removed and disconnected assets do not conduct; proposed ones count. What is unclear is
/// followed, since it may be live, and nothing that depends on it is predicted to meet a limit.
[[nodiscard]] constexpr bool conducts(Status s) noexcept {
    return s != Status::removed && s != Status::disconnected;
}

/// A protective device as recorded.
struct FuseRecord {
    enum class Word : std::uint8_t {
        missing,   ///< no type recorded
        none,      ///< an isolator or solid link: protects nothing
        known,     ///< `type` is a row of the catalogue
        not_found, ///< a word that the catalogue does not have; `text` keeps it
    };
    Word word = Word::missing;
    FuseTypeId type;
    TextId text;
    Maybe<Ampere> rating;
    [[nodiscard]] bool is_absent() const noexcept {
        return word == Word::missing && !rating.has_value();
    }
    friend bool operator==(const FuseRecord&, const FuseRecord&) = default;
};

/// A cable type as recorded: `type` if the catalogue has it, else the word in `text` (null: none).
struct CableTypeRecord {
    CableTypeId type;
    TextId text;
    friend bool operator==(const CableTypeRecord&, const CableTypeRecord&) = default;
};

struct Column {
    TextId id;
    TextId circuit;
    TextId road;
    TextId area;
    std::int64_t fid = 0;
    Point2 place;           ///< meaningless unless has_place
    bool has_place = false; ///< false: null, empty or unusable geometry
    ColumnKind kind{};
    Owner owner{};
    StatedFeed feed{};
    Phase phase{};
    Control control{};
    Poles poles{};
    Earthing earthing{};
    Status status{};
    FuseRecord fuse;
    CableTypeRecord tail_type;
    Maybe<Watt> load;
    Maybe<Number> power_factor;
    Maybe<Number> breaking_ka;
    Maybe<Number> rcd_ma;
    Maybe<base::Second> limit;
    Maybe<Metre> tail;
    Maybe<Metre> height;
    Maybe<Ohm> electrode;
};

/// Parts of all cables lie one behind the other in Layers::parts and ::vertices.
struct Cable {
    TextId id;
    TextId circuit;
    std::int64_t fid = 0;
    std::uint32_t first_part = 0;
    std::uint32_t part_count = 0; ///< 0: no usable geometry
    CableTypeRecord type;
    Maybe<Metre> laid; ///< recorded length, > 0
    Owner owner{};
    Control control{};
    Status status{};
};

/// One line of a cable, running from its end with the smaller (x, y); parts of a cable are sorted
/// by that end. Length is on the ground (geodesic where the coordinate system allows), as drawn.
struct Part {
    base::CableId cable;
    std::uint32_t first_vertex = 0;
    std::uint32_t vertex_count = 0; ///< >= 2
    Metre drawn;                    ///< > 0
    Metre planar;                   ///< the same line in working coordinates; measures refer to it
};

struct Supply {
    TextId id;
    std::int64_t fid = 0;
    Point2 place;
    bool has_place = false;
    SupplyKind kind{};
    Earthing earthing{};
    Status status{};
    Maybe<Number> phases; ///< 1 or 3
    Maybe<Ohm> ze, ze_r, ze_x;
    Basis ze_basis = Basis::declared;
    Maybe<Number> pscc_ka, pscc3_ka;
    Basis pscc_basis = Basis::declared;
    Maybe<Volt> voltage;
    FuseRecord fuse;
    Maybe<Number> rcd_ma;
    Maybe<Ohm> electrode; ///< the worse of record and reading
    Maybe<Number> transformer_kva, transformer_z_pct, transformer_r_pct;
    Maybe<Ohm> ze_read;         ///< loop impedance that a test at the supply read, not TT
    Maybe<Number> pscc_read_ka; ///< prospective current likewise
};

struct WayRow {
    TextId supply_id; ///< as recorded
    TextId way;
    TextId circuit;
    std::int64_t fid = 0;
    Phase phase{};
    Control control{};
    FuseRecord fuse;
    Maybe<Number> rcd_ma;
    Maybe<base::Second> limit;
};

struct Joint {
    TextId id;
    std::int64_t fid = 0;
    Point2 place;
    bool has_place = false;
    JointKind kind{};
    FuseRecord fuse;
};

struct Main {
    TextId id;
    std::int64_t fid = 0;
    std::vector<base::Polyline> lines; ///< working coordinates
    std::vector<Metre> drawn;          ///< of each line, on the ground
    CableTypeRecord type;
    Maybe<Metre> laid;
    Maybe<Number> customers;
};

struct Termination {
    TextId asset_id;
    TextId cable_id;
    bool has_layer = false; ///< asset_layer is recorded
    AssetLayer asset_layer{};
    CableEndState state{};
    CutOutSide side{};
    EarthBond earth{};
};

struct Load {
    TextId column_id;
    TextId use;
    Maybe<Watt> load;
    Maybe<Number> power_factor;
    FuseRecord fuse;
    Phase phase{};
    Maybe<Number> rcd_ma;
    Maybe<base::Second> limit;
};

struct Reading {
    TextId asset_id;
    bool has_layer = false;
    AssetLayer asset_layer{};
    TakenAt taken_at{};
    TestMethod method{};
    std::int32_t taken_on = 0; ///< year * 10000 + month * 100 + day; 0: not recorded
    Maybe<Ohm> zs, ra;
    Maybe<Number> pscc_ka;
    Maybe<base::Celsius> conductor;
};

/// A reading of an electrode that is used in the place of its record, which is lower or blank.
struct ElectrodeReading {
    AssetLayer layer{};      ///< supplies or columns
    std::uint32_t index = 0; ///< in that layer
    Ohm read;
    Maybe<Ohm> recorded; ///< less than `read`
};

/// Everything that was read. `has_layer` tells an absent layer from an empty one.
struct Layers {
    base::TextPool text;
    std::array<bool, base::kAssetLayerCount> has_layer{};
    std::vector<Column> columns;
    std::vector<Cable> cables;
    std::vector<Part> parts;
    std::vector<Point2> vertices;
    std::vector<Supply> supplies;
    std::vector<WayRow> ways;
    std::vector<Joint> joints;
    std::vector<Main> mains;
    std::vector<Termination> terminations;
    std::vector<Load> loads;
    std::vector<Reading> readings;
    std::vector<ElectrodeReading> electrodes_read; ///< sorted by layer and index

    [[nodiscard]] std::span<const Point2> line(const Part& part) const noexcept {
        return {vertices.data() + part.first_vertex, part.vertex_count};
    }
    [[nodiscard]] std::span<const Part> parts_of(const Cable& cable) const noexcept {
        return {parts.data() + cable.first_part, cable.part_count};
    }
    [[nodiscard]] std::string id_text(TextId id) const { return std::string(text.view(id)); }
};

} // namespace loopwalk::model
