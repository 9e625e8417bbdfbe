// Streets fed from pillars, nothing wrong, with less common parts: a section pillar, a fused joint,
// other things than columns, cables of two parts.

#include "street.hpp"
#include "streets.hpp"
#include <array>

namespace town {
namespace {

/// A way of the section pillar: columns beyond it carry its label.
void add_section_way(Town& town, Street& street, Text letter, Footway footway) {
    const Text circuit = street.plot().code + letter;
    Way way;
    way.supply_id = "SP-IS";
    way.way = letter;
    way.circuit = circuit;
    way.fuse_a = 10.0;
    town.ways.push_back(way);
    Point2 from = street.at(60.0, 0.0);
    for (int number = 1; number <= 3; ++number) {
        const Text id = circuit + "-" + numbered(number, 2);
        const Point2 place =
            street.at(55.0 + 20.0 * number, footway == Footway::north ? 5.0 : -5.0);
        Column& column = street.add_column(id, place);
        column.circuit = circuit;
        column.phase = "L1";
        Cable cable;
        cable.cable_id = "C-" + id;
        cable.cable_type = "SWA XLPE Cu 2x6";
        cable.circuit = circuit;
        cable.lines = {bent(from, place)};
        town.lay(std::move(cable));
        from = place;
    }
}

/// A section pillar: no source of its own, but with fused ways.
void build_islet_way(Town& town) {
    Street street(town, {"IS", "Islet Way", "Hill", 0, 8, 0.0});
    street.add_pillar();
    street.add_way(1, "L1", 25.0);
    Supply section;
    section.supply_id = "SP-IS";
    section.kind = "section pillar";
    section.road = street.plot().road;
    section.earthing = "";
    section.ze_basis = section.pscc_basis = section.fuse_type = "";
    section.ze_ohm = section.pscc_ka = section.pscc3_ka = section.fuse_a = {};
    section.place = street.at(60.0, 0.0);
    town.supplies.push_back(section);
    Cable feeder;
    feeder.cable_id = "C-IS1-F";
    feeder.cable_type = "SWA XLPE Cu 3x6";
    feeder.circuit = street.circuit(1);
    feeder.lines = {bent(street.at(0.0, 0.0), section.place)};
    town.lay(std::move(feeder));
    add_section_way(town, street, "A", Footway::north);
    add_section_way(town, street, "B", Footway::south);
}

/// A fused joint half-way: the last two columns lie behind its fuse.
void build_jetty_lane(Town& town) {
    Street street(town, {"JE", "Jetty Lane", "Hill", 0, 9, 0.0003});
    street.add_pillar();
    const Arm arm{.columns = 4, .spacing_m = 24.0};
    street.add_arm(arm);
    Joint fused;
    fused.joint_id = "J-JE1-F";
    fused.kind = "fused";
    fused.fuse_type = "BS 88-2";
    fused.fuse_a = 10.0;
    fused.place = street.at(46.0, 4.0);
    Cable before;
    before.cable_id = "C-JE1-03A";
    before.cable_type = "SWA XLPE Cu 2x6";
    before.circuit = street.circuit(1);
    before.lines = {bent(street.place_on(arm, 2), fused.place)};
    Cable& after = town.cable("C-JE1-03");
    after.lines = {bent(fused.place, street.place_on(arm, 3))};
    after.length_m = 13.5;
    town.lay(std::move(before));
    town.joints.push_back(std::move(fused));
}

/// Signs, bollards, beacons and a shelter, and cut-outs with other fuses.
void build_kelp_street(Town& town) {
    Street street(town, {"KE", "Kelp Street", "Hill", 0, 10, 0.0});
    street.add_pillar();
    street.add_arm({.way = 1, .columns = 6, .load_w = 24.0});
    street.add_arm({.way = 2, .footway = Footway::south, .columns = 5, .load_w = 24.0});
    const std::array<const char*, 6> kinds{"column", "sign",    "bollard",
                                           "beacon", "shelter", "sign"};
    for (std::size_t i = 0; i < kinds.size(); ++i) {
        Column& column = town.column(street.column_id(1, static_cast<int>(i) + 1));
        column.kind = kinds[i];
        column.height_m = column.kind == "bollard" ? "1" : "3";
        column.tail_m = 2.5;
        column.load_w = column.kind == "bollard" ? 9.0 : 18.0;
    }
    town.column("KE2-01").fuse_a = 10.0;
    town.column("KE2-02").fuse_type = "BS 88-3";
    town.column("KE2-02").fuse_a = 5.0;
    town.column("KE2-03").fuse_type = "BS 1361";
    town.column("KE2-03").fuse_a = 5.0;
    Column& rewirable = town.column("KE2-05");
    rewirable.fuse_type = "BS 3036";
    rewirable.fuse_a = 5.0;
    rewirable.fuse_breaking_ka = 1.0;
    town.column("KE2-04").tail_type = "Flex 3x1.5";
}

/// The long road: two-column records drawn as one cable of two parts, ends some centimetres off.
void build_pilot_road(Town& town) {
    Street street(town, {"PI", "Pilot Road", "Shore", 1, 2, -0.0003});
    street.add_pillar();
    street.add_arm({.way = 1, .columns = 5, .cable_type = "SWA XLPE Cu 3x6 armour"});
    street.add_arm({.way = 2, .footway = Footway::south, .columns = 5});
    for (int number = 2; number <= 4; ++number) {
        Polyline& line = town.cable(street.cable_id(1, number)).lines.front();
        line.front() = shifted(line.front(), 0.03, -0.02);
        line.back() = shifted(line.back(), -0.05 * number, 0.04);
    }
    Cable& whole = town.cable("C-PI2-02");
    const Cable second = town.cable("C-PI2-03");
    whole.lines.push_back(second.lines.front());
    whole.length_m = *whole.length_m + *second.length_m;
    std::erase_if(town.cables, [](const Cable& c) { return c.cable_id == "C-PI2-03"; });
}

} // namespace

void build_varied_streets(Town& town) {
    build_islet_way(town);
    build_jetty_lane(town);
    build_kelp_street(town);
    build_pilot_road(town);
}

} // namespace town
