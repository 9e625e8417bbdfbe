// Devices that do not go with their cables, their neighbours or the earthing. The figures in the
// key were worked out apart from the program: README.md shows one by hand.

#include "street.hpp"
#include "streets.hpp"

namespace town {
namespace {

/// 1.5 mm2 behind 32 A: once too long, once all right for lighting, once with a socket.
void build_heather_street(Town& town) {
    Street street(town, {"HE", "Heather Street", "Hill", 2, 6, 0.0});
    street.add_pillar();
    Arm arm{.way = 1,
            .columns = 2,
            .spacing_m = 27.0,
            .cable_type = "SWA XLPE Cu 3x1.5",
            .fuse_a = 32.0};
    street.add_arm(arm);
    town.expect("thin-margin", "note", "columns", "HE1-02",
                "way 1: 1.45 ohm where 1.68 are allowed");
    town.expect(
        "earth-path-heat", "fail", "cables", "C-HE1-02",
        "way 1: at 150 A the fuse takes 2.5 s, 57,000 A2s; a core of 1.5 mm2 survives 46,000");
    town.expect("conductor-heat", "fail", "cables", "C-HE1-02",
                "way 1: line and neutral are of 1.5 mm2 too");
    town.expect("cable-unprotected", "fail", "cables", "C-HE1-01",
                "way 1: 32 A before 25 A, and the fault check does not hold");
    arm.way = 2;
    arm.footway = Footway::south;
    arm.spacing_m = 20.0;
    arm.cable_type = "SWA XLPE Cu 2x1.5";
    street.add_arm(arm);
    town.expect("cable-unprotected", "note", "cables", "C-HE2-01",
                "way 2: 32 A before 25 A, but lighting only and faults are cleared in time");
    arm.way = 3;
    arm.heading = Heading::west;
    street.add_arm(arm);
    town.loads.push_back({.column_id = "HE3-02", .use = "lantern", .load_w = 36.0});
    town.loads.push_back(
        {.column_id = "HE3-02", .use = "festive socket", .load_w = 100.0, .rcd_ma = 30.0});
    town.expect("cable-unprotected", "fail", "cables", "C-HE3-01",
                "way 3: 32 A before 25 A with a socket that may overload it");
}

/// An overhead line: every column on an electrode of its own.
void build_tern_street(Town& town) {
    Street street(town, {"TE", "Tern Street", "Hill", 2, 7, 0.0});
    Supply& pillar = street.add_pillar();
    pillar.earthing = "TT";
    pillar.ze_ohm.reset();
    pillar.electrode_ohm = 12.0;
    street.add_way(1, "L1", 16.0).rcd_ma = 0.0;
    street.add_arm({.way = 1, .columns = 3});
    street.add_way(2, "L1", 16.0).rcd_ma = 100.0;
    street.add_arm({.way = 2, .footway = Footway::south, .columns = 3});
    for (const char* id : {"TE1-01", "TE1-02", "TE1-03", "TE2-01", "TE2-02", "TE2-03"}) {
        town.column(id).electrode_ohm = 60.0;
    }
    town.expect("no-rcd", "fail", "columns", "TE1-01",
                "way 1: three columns on electrodes, no RCD before them");
}

void build_elver_street(Town& town) {
    Street street(town, {"EL", "Elver Street", "Hill", 2, 9, 0.0});
    street.add_pillar().rcd_ma = 100.0;
    street.add_arm({.way = 1, .columns = 3});
    Column& own = town.column("EL1-02");
    own.earthing = "TT";
    own.electrode_ohm = 40.0;
    town.expect("earths-joined", "fail", "columns", "EL1-02",
                "way 1: an electrode of its own, and the armour of the TN-C-S supply bonded in it");
    street.add_arm({.way = 2, .footway = Footway::south, .columns = 3});
    town.loads.push_back({.column_id = "EL2-02", .use = "lantern", .load_w = 36.0});
    town.loads.push_back(
        {.column_id = "EL2-02", .use = "vehicle charger", .load_w = 400.0, .rcd_ma = 30.0});
    town.expect("ev-on-pme", "fail", "columns", "EL2-02",
                "way 2: a charger on a combined neutral and earth");
}

void build_estuary_road(Town& town) {
    Street street(town, {"ES", "Estuary Road", "Hill", 2, 10, 0.0});
    street.add_pillar();
    street.add_arm({.way = 1,
                    .columns = 12,
                    .spacing_m = 12.0,
                    .cable_type = "SWA XLPE Cu 2x10",
                    .load_w = 24.0});
    town.expect("earth-exposure", "warning", "cables", "C-ES1-01",
                "way 1: twelve columns earthed by the armour of one cable");
}

} // namespace

void build_device_faults(Town& town) {
    build_heather_street(town);
    build_tern_street(town);
    build_elver_street(town);
    build_estuary_road(town);
}

} // namespace town
