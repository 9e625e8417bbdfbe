// Entries that cannot be right: each circuit holds one, the rest of it is sound.

#include "street.hpp"
#include "streets.hpp"

namespace town {
namespace {

const Arm kNorthEast{.way = 1};
const Arm kSouthEast{.way = 2, .footway = Footway::south};
const Arm kNorthWest{.way = 3, .heading = Heading::west};
const Arm kSouthWest{.way = 4, .heading = Heading::west, .footway = Footway::south};

void add_four_arms(Street& street) {
    street.add_pillar();
    for (const Arm& arm : {kNorthEast, kSouthEast, kNorthWest, kSouthWest}) {
        street.add_arm(arm);
    }
}

/// Things entered twice, or with nothing between their ends.
void build_windlass_road(Town& town) {
    Street street(town, {"WI", "Windlass Road", "Shore", 1, 9, 0.0});
    add_four_arms(street);

    Column& namesake = town.column("WI1-03");
    namesake.column_id = "WI1-02";
    const auto fid = &namesake - town.columns.data() + 1;
    town.expect("duplicate-id", "warning", "columns", "WI1-02",
                "way 1: two columns called WI1-02; the western one keeps the id");
    town.expect("duplicate-id", "warning", "columns", "fid:" + std::to_string(fid),
                "way 1: the eastern of the two columns called WI1-02");

    Cable twin = town.cable("C-WI2-04");
    twin.cable_id = "C-WI2-04B";
    town.cables.push_back(twin);
    for (const char* id : {"C-WI2-04", "C-WI2-04B"}) {
        town.expect("duplicate-geometry", "warning", "cables", id,
                    "way 2: one cable entered twice under two ids");
    }
    town.expect("ring", "warning", "supplies", "P-WI",
                "way 2: the cable entered twice closes a loop with itself");

    const Point2 last = *town.column("WI3-04").place;
    Column& beside = street.add_column("WI3-05", shifted(last, -1.2, 0.0));
    beside.circuit = street.circuit(3);
    beside.phase = "L1";
    Cable link = town.cable("C-WI3-04");
    link.cable_id = "C-WI3-05";
    link.lines = {{last, *beside.place}};
    link.length_m = 2.0;
    town.cables.push_back(link);
    for (const char* id : {"WI3-04", "WI3-05"}) {
        town.expect("column-beside-column", "warning", "columns", id,
                    "way 3: two columns 1.2 m apart");
    }

    Cable stub = town.cable("C-WI4-04");
    stub.cable_id = "C-WI4-05";
    stub.length_m.reset();
    stub.lines = {{stub.lines.front().back(), stub.lines.front().back()}};
    town.cables.push_back(stub);
    town.expect("zero-length", "warning", "cables", "C-WI4-05",
                "way 4: a cable whose two ends are one point");
}

/// Values that cannot be used, or that disagree.
void build_beacon_street(Town& town) {
    Street street(town, {"BE", "Beacon Street", "Shore", 1, 10, 0.0});
    add_four_arms(street);

    Column& nowhere = street.add_column("BE1-05", {});
    nowhere.circuit = street.circuit(1);
    nowhere.place.reset();
    town.expect("bad-geometry", "warning", "columns", "BE1-05", "way 1: a column without a place");
    town.expect("not-traced", "fail", "columns", "BE1-05",
                "way 1: a column without a place has no path to a supply");

    town.column("BE2-03").height_m = "see plan";
    town.expect("bad-value", "warning", "columns", "BE2-03",
                "way 2: words where height_m should hold a number");

    town.cable("C-BE3-03").length_m = 55.0;
    town.expect("length-differs", "warning", "cables", "C-BE3-03", "way 3: 55 m laid, 20 m drawn");

    town.column("BE4-03").circuit = street.circuit(3);
    town.expect("circuit-differs", "warning", "columns", "BE4-03",
                "way 4: a column labelled with the circuit of way 3");
}

/// Words that no table knows, and cut-outs that should be looked at.
void build_cockle_street(Town& town) {
    Street street(town, {"CO", "Cockle Street", "Shore", 1, 11, 0.0});
    street.add_pillar();
    street.add_arm({.way = 1, .columns = 6, .cable_type = "Old twin, see file", .fuse_a = 32.0});
    for (const Arm& arm : {kSouthEast, kNorthWest, kSouthWest}) {
        street.add_arm(arm);
    }
    town.expect("type-unknown", "warning", "cables", "C-CO1-01",
                "way 1: six cables of a type that no table knows");
    town.expect("slow-way", "warning", "columns", "CO1-06",
                "way 1: undecided, since the unknown type may be 4x16 (margin about 1.9) or "
                "2x6 (0.91)");
    town.expect(
        "earth-path-heat", "warning", "cables", "C-CO1-02",
        "way 1: undecided: at 175 A the fuse takes 1.2 s, 36,600 A2s; a PVC core of 1.5 mm2 "
        "survives 29,800");
    town.expect("conductor-heat", "warning", "cables", "C-CO1-02", "way 1: undecided likewise");
    town.expect("cable-unprotected", "warning", "cables", "C-CO1-01",
                "way 1: undecided likewise: 18 A is the least that a cable carries");

    Column& red = town.column("CO2-03");
    red.fuse_type = "Red cartridge";
    red.fuse_breaking_ka = 16.0;
    town.expect("fuse-unknown", "warning", "columns", "CO2-03",
                "way 2: a fuse type that no table knows; with 6 A every known type clears");
    town.expect("no-discrimination", "warning", "columns", "CO2-03",
                "way 2: cannot be judged with a fuse of unknown type");

    Column& breaker = town.column("CO3-02");
    breaker.fuse_type = "MCB B";
    breaker.fuse_breaking_ka = 6.0;
    town.expect("breaker-in-column", "note", "columns", "CO3-02",
                "way 3: a circuit-breaker in a column");
    town.expect("no-discrimination", "warning", "columns", "CO3-02",
                "way 3: cannot be judged with a circuit-breaker whose I2t is not known");

    town.column("CO4-02").poles = "neutral fused";
    town.expect("fuse-in-neutral", "danger", "columns", "CO4-02", "way 4: a fuse in the neutral");

    street.add_way(5, "L1", 16.0);
    town.expect("way-without-cable", "note", "supplies", "P-CO",
                "way 5: a row in ways, but no cable with its circuit");
}

/// Two columns that nothing reaches; one of them lies at the origin of the grid.
void build_outlying_columns(Town& town) {
    Street street(town, {"LO", "Lonely Lane", "Hill", 2, 8, 0.0});
    street.add_column("LO-01", street.at(0.0, 5.0));
    town.expect("not-traced", "fail", "columns", "LO-01", "a council column that no cable reaches");
    street.add_column("LO-02", {0.0, 0.0});
    town.expect("outlier-place", "warning", "columns", "LO-02", "a column at 0, 0");
    town.expect("not-traced", "fail", "columns", "LO-02", "nothing reaches 0, 0 either");
}

} // namespace

void build_record_faults(Town& town) {
    build_windlass_road(town);
    build_beacon_street(town);
    build_cockle_street(town);
    build_outlying_columns(town);
}

} // namespace town
