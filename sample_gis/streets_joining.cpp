// Circuits joined where they should not be: a ring, two supplies, two phases.

#include "street.hpp"
#include "streets.hpp"

namespace town {
namespace {

Cable unlabelled(Text id, Point2 from, Point2 to) {
    Cable cable;
    cable.cable_id = std::move(id);
    cable.cable_type = "SWA XLPE Cu 2x6";
    cable.lines = {bent(from, to)};
    return cable;
}

/// Four columns in a closed ring that no open point breaks.
void build_thistle_street(Town& town) {
    Street street(town, {"TH", "Thistle Street", "Shore", 1, 6, 0.0});
    street.add_pillar();
    street.add_arm({.columns = 2});
    street.add_arm({.footway = Footway::south, .columns = 2, .first_number = 3});
    Cable closing =
        unlabelled("C-TH1-X", *town.column("TH1-02").place, *town.column("TH1-04").place);
    closing.circuit = street.circuit(1);
    town.lay(std::move(closing));
    town.expect("ring", "warning", "supplies", "P-TH",
                "way 1: four columns in a ring, no open point recorded");
}

/// Two pillars, each with one way for all its cables, joined through two columns.
void build_tide_street(Town& town) {
    Street street(town, {"TI", "Tide Street", "Shore", 1, 7, 0.0});
    const Point2 a = street.at(-25.0, 5.0);
    const Point2 b = street.at(25.0, 5.0);
    for (const auto& [id, along] : {std::pair{"P-TI-W", -45.0}, std::pair{"P-TI-E", 45.0}}) {
        Supply& pillar = street.add_pillar();
        pillar.supply_id = id;
        pillar.place = street.at(along, 0.0);
        Way& way = street.add_way(1, "L1", 16.0);
        way.supply_id = id;
        way.circuit = "";
    }
    street.add_column("TI-01", a).phase = "L1";
    street.add_column("TI-02", b).phase = "L1";
    town.lay(unlabelled("C-TI-01", street.at(-45.0, 0.0), a));
    town.lay(unlabelled("C-TI-02", street.at(45.0, 0.0), b));
    town.lay(unlabelled("C-TI-X", a, b));
    town.expect("supplies-joined", "danger", "cables", "C-TI-X",
                "this cable joins the columns of two pillars");
    for (const char* id : {"TI-01", "TI-02"}) {
        town.expect("fed-twice", "danger", "columns", id, "a path to each of two pillars");
    }
}

/// Two ways of different phases, joined by a cable between their columns.
void build_urchin_street(Town& town) {
    Street street(town, {"UR", "Urchin Street", "Shore", 1, 8, 0.0});
    street.add_pillar();
    street.add_arm({.way = 1, .columns = 1});
    street.add_arm({.way = 2, .heading = Heading::west, .columns = 1, .phase = "L2"});
    for (const char* id : {"UR1-01", "UR2-01"}) {
        town.column(id).circuit = "";
    }
    town.lay(unlabelled("C-UR-X", *town.column("UR1-01").place, *town.column("UR2-01").place));
    town.expect("phases-joined", "danger", "cables", "C-UR-X",
                "this cable joins a column on L1 to a column on L2 of one pillar");
    for (const char* way : {"1", "2"}) {
        town.expect("ring", "warning", "supplies", "P-UR",
                    "way " + Text(way) + ": the joined ways close a loop through the pillar");
    }
}

/// The last cable of a way on L2 ends, open, in a column fed from L1.
void build_vole_street(Town& town) {
    Street street(town, {"VO", "Vole Street", "Shore", 1, 12, 0.0});
    street.add_pillar();
    street.add_arm({.way = 1, .columns = 3});
    street.add_arm({.way = 2, .footway = Footway::south, .columns = 3, .phase = "L2"});
    Cable open = unlabelled("C-VO2-X", *town.column("VO2-03").place, *town.column("VO1-03").place);
    open.circuit = street.circuit(2);
    town.lay(std::move(open));
    town.terminations.push_back({.asset_id = "VO1-03", .cable_id = "C-VO2-X", .state = "open"});
    town.expect("second-supply", "danger", "columns", "VO1-03",
                "way 1: a cable of way 2 ends open in it");
    town.expect("two-phases-in-column", "warning", "columns", "VO1-03",
                "a column on L1 in which a live cable on L2 ends, open");
}

} // namespace

void build_joining_faults(Town& town) {
    build_thistle_street(town);
    build_tide_street(town);
    build_urchin_street(town);
    build_vole_street(town);
}

} // namespace town
