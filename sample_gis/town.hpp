// The made-up town as plain rows, one struct for each layer of the contract, and the answer key.
//
// Streets add rows here; write_town() turns them into layers. An empty text or optional is written
// as null. Coordinates are metres in the British National Grid, rounded to a centimetre.
#pragma once

#include "loopwalk/base/point.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace town {

using loopwalk::base::Point2;
using loopwalk::base::Polyline;
using Number = std::optional<double>;
using Text = std::string;

struct Column {
    Text column_id = {}, kind = "column", road = {}, area = {}, owner = "council", feed = "pillar",
         circuit = {}, phase = {};
    Text control = "own photocell";
    Number load_w = 36.0, power_factor = 0.95;
    Text fuse_type = "BS 88-2";
    Number fuse_a = 6.0, fuse_breaking_ka = {};
    Text poles = "1";
    Number rcd_ma = {}, limit_s = {};
    Text tail_type = "Flat twin and earth 1.5";
    Number tail_m = 7.5;
    Text height_m = "6"; ///< text, as in many councils' tables: one of them does not hold a number
    Text earthing = {};
    Number electrode_ohm = {};
    Text status = "in service";
    std::optional<Point2> place = {};
};

struct Cable {
    Text cable_id = {}, cable_type = {}, circuit = {};
    Number length_m = {};
    Text owner = "council", control = {}, status = "in service";
    std::vector<Polyline> lines = {}; ///< none: no geometry
};

struct Supply {
    Text supply_id = {}, kind = "pillar", road = {}, earthing = "TN-C-S";
    Number ze_ohm = 0.20, ze_r_ohm = {}, ze_x_ohm = {};
    Text ze_basis = "measured";
    Number pscc_ka = 1.2, pscc3_ka = 2.3;
    Text pscc_basis = "measured";
    Number voltage_v = 230.0, phases = 3.0;
    Text fuse_type = "BS 88-2";
    Number fuse_a = 63.0, rcd_ma = {}, electrode_ohm = {}, transformer_kva = {},
           transformer_z_pct = {}, transformer_r_pct = {};
    Text status = "in service";
    Point2 place = {};
};

struct Way {
    Text supply_id = {}, way = {}, circuit = {}, phase = "L1", control = "permanent",
         fuse_type = "BS 88-2";
    Number fuse_a = 16.0, rcd_ma = {}, limit_s = {};
};

struct Joint {
    Text joint_id = {}, kind = {}, fuse_type = {};
    Number fuse_a = {};
    Point2 place = {};
};

struct Main {
    Text main_id = {}, cable_type = {};
    Number length_m = {}, customers = {};
    Polyline line = {};
};

struct Termination {
    Text asset_id = {}, cable_id = {}, asset_layer = "columns", state = "connected", side = "loop",
         earth = "bonded";
};

struct Load {
    Text column_id = {}, use = {};
    Number load_w = {}, power_factor = 0.95;
    Text fuse_type = "BS 88-2";
    Number fuse_a = 6.0;
    Text phase = {};
    Number rcd_ma = {}, limit_s = {};
};

struct Reading {
    Text asset_id = {}, asset_layer = "columns", taken_on = "2023-11-14", taken_at = "cut-out";
    Number zs_ohm = {}, ra_ohm = {}, pscc_ka = {}, conductor_c = 20.0;
    Text method = "high current";
};

/// A finding that must appear; together they are the answer key.
struct Expected {
    Text rule = {}, severity = {}, asset_layer = {}, asset_id = {}, what_was_planted = {};
};

struct Town {
    std::vector<Column> columns;
    std::vector<Cable> cables;
    std::vector<Supply> supplies;
    std::vector<Way> ways;
    std::vector<Joint> joints;
    std::vector<Main> mains;
    std::vector<Termination> terminations;
    std::vector<Load> loads;
    std::vector<Reading> readings;
    std::vector<Expected> key;

    /// The row with that id, to be altered. Valid until a row is added. Throws std::out_of_range.
    [[nodiscard]] Column& column(const Text& id);
    [[nodiscard]] Cable& cable(const Text& id);
    [[nodiscard]] Supply& supply(const Text& id);
    [[nodiscard]] Way& way(const Text& supply_id, const Text& way);

    /// Adds a cable; its laid length is recorded as 2 % over the drawn one and a metre for its
    /// ends.
    Cable& lay(Cable cable);
    /// Adds a finding that the rows so far must cause.
    void expect(Text rule, Text severity, Text asset_layer, Text asset_id, Text why);
};

[[nodiscard]] double round_cm(double metres);
/// `value` with `digits` digits, zeros in front.
[[nodiscard]] Text numbered(int value, std::size_t digits);
/// A line from a to b with a bend half-way, 0.7 m off the straight.
[[nodiscard]] Polyline bent(Point2 a, Point2 b);
/// The point `east`, `north` metres from `p`.
[[nodiscard]] Point2 shifted(Point2 p, double east, double north);

/// Writes the layers to a GeoPackage, replacing it. Throws loopwalk::base::OutputError.
void write_town(const Town& town, const Text& path);
/// Writes the answer key as CSV, sorted. Throws std::runtime_error.
void write_key(const Town& town, const Text& path);

} // namespace town
