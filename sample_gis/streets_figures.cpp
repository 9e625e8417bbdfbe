// Fuses, loads and cables that do not fit. The margins in the key were worked out apart from the
// program, from method.md and the published cable and fuse values: README.md shows one by hand.

#include "street.hpp"
#include "streets.hpp"

namespace town {
namespace {

constexpr const char* kSeparateEarth = "SWA XLPE Cu 3x6";

void build_slipway_street(Town& town) {
    Street street(town, {"SL", "Slipway Street", "Hill", 2, 0, 0.0});
    street.add_pillar().fuse_a = 80.0;
    street.add_arm({.way = 1, .fuse_a = 50.0});
    town.expect("slow-way", "fail", "columns", "SL1-04",
                "way 1: 50 A on a loop of 1.25 ohm, margin 0.79");
    town.expect("thin-margin", "note", "columns", "SL1-03",
                "way 1: the column before it still meets, 0.96 ohm, margin 1.04");
    street.add_arm({.way = 2, .footway = Footway::south, .columns = 5, .fuse_a = 32.0});
    town.expect("thin-margin", "note", "columns", "SL2-05",
                "way 2: 32 A on a loop of 1.55 ohm, margin 1.09");
    street.add_arm({.way = 3, .heading = Heading::west, .fuse_a = 6.0, .load_w = 400.0});
    town.expect("overload", "fail", "supplies", "P-SL",
                "way 3: 1,600 W at power factor 0.95, 7.3 A, behind 6 A");
    town.expect("no-discrimination", "warning", "columns", "SL3-01",
                "way 3: 6 A in each of four columns behind 6 A");
    street.add_arm({.way = 4, .heading = Heading::west, .footway = Footway::south});
    town.column("SL4-02").load_w = 620.0;
    town.expect("load-point-over", "warning", "columns", "SL4-02", "way 4: 620 W at one point");
}

void build_vane_road(Town& town) {
    Street street(town, {"VA", "Vane Road", "Hill", 2, 1, 0.0});
    street.add_pillar();
    street.add_arm({.way = 1, .columns = 10, .fuse_a = 10.0});
    Column& last = town.column("VA1-10");
    last.fuse_a = 25.0;
    last.height_m = "10";
    last.tail_m = 11.5;
    town.expect("slow-cut-out", "fail", "columns", "VA1-10",
                "way 1: 25 A in the cut-out, 3.43 ohm at the lantern, margin 0.64");
    town.expect("no-discrimination", "warning", "columns", "VA1-10",
                "way 1: 25 A in the cut-out behind 10 A in the way");
    street.add_arm({.way = 2,
                    .footway = Footway::south,
                    .columns = 8,
                    .cable_type = kSeparateEarth,
                    .fuse_a = 20.0,
                    .load_w = 400.0});
    town.expect("volt-drop", "warning", "columns", "VA2-08",
                "way 2: eight columns of 400 W, 4.3 % at the last");
}

/// A source of 9 kA and an old rewirable carrier 11 m away.
void build_breakwater_street(Town& town) {
    Street street(town, {"BR", "Breakwater Street", "Hill", 2, 2, 0.0});
    Supply& pillar = street.add_pillar();
    pillar.ze_ohm = 0.05;
    pillar.pscc_ka = 9.0;
    pillar.pscc3_ka = 16.0;
    pillar.pscc_basis = "declared";
    street.add_arm({.way = 1});
    Column& first = town.column("BR1-01");
    first.fuse_type = "BS 3036";
    first.fuse_a = 5.0;
    first.fuse_breaking_ka = 1.0;
    town.expect("breaking-capacity", "danger", "columns", "BR1-01",
                "a carrier for 1 kA where 3.1 kA can flow");
}

/// Two arms of one way: each point under 500 W, together over 5,000 W.
void build_wharf_end(Town& town) {
    Street street(town, {"WE", "Wharf End", "Hill", 2, 3, 0.0});
    street.add_pillar();
    Arm arm{.columns = 6,
            .spacing_m = 15.0,
            .cable_type = kSeparateEarth,
            .fuse_a = 32.0,
            .load_w = 450.0};
    street.add_arm(arm);
    arm.heading = Heading::west;
    arm.first_number = 7;
    street.add_arm(arm);
    town.expect("way-load-over", "warning", "supplies", "P-WE",
                "way 1: twelve columns of 450 W, 5,400 W; volt drop 2.2 %");
}

void build_pebble_street(Town& town) {
    Street street(town, {"PE", "Pebble Street", "Hill", 2, 4, 0.0});
    street.add_pillar();
    street.add_arm({.way = 1});
    town.cable("C-PE1-02").cable_type = "Concentric CNE Cu 10";
    town.expect("pen-in-installation", "danger", "cables", "C-PE1-02",
                "way 1: a combined neutral-earth cable of the council's, beyond the pillar");
    town.expect("neutral-earth-exposure", "warning", "cables", "C-PE1-02",
                "way 1: if it is lost, metalwork of three columns up to 230 V");

    street.add_arm({.way = 2, .footway = Footway::south});
    const Point2 near = shifted(*town.column("PE2-04").place, 2.3, 0.0);
    street.add_service_column("S1", near, shifted(near, 1.0, -4.0), "Concentric split Cu 4");
    town.supply("S-PE-S1").earthing = "TN-S";
    town.supply("S-PE-S1").ze_ohm = 0.80;
    town.supply("S-PE-S1").pscc_ka = 8.0;
    town.expect("earths-within-reach", "danger", "columns", "PE-S1",
                "a TN-S column 2.3 m from PE2-04, which is on TN-C-S");
}

} // namespace

void build_figure_faults(Town& town) {
    build_slipway_street(town);
    build_vane_road(town);
    build_breakwater_street(town);
    build_wharf_end(town);
    build_pebble_street(town);
}

} // namespace town
