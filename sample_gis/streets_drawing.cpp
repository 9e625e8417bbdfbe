// Lines that miss, or that meet what the records do not join: one on each circuit.

#include "street.hpp"
#include "streets.hpp"

namespace town {
namespace {

Cable like(const Cable& cable, Text id, Polyline line) {
    Cable copy = cable;
    copy.cable_id = std::move(id);
    copy.length_m.reset();
    copy.lines = {std::move(line)};
    return copy;
}

/// A cable from a new column to 0.15 m beside another cable, half-way to that cable's bend: beside
/// the bend itself two stretches would be equally near.
void add_spur(Town& town, Street& street, int way, int number, const Text& cable_id) {
    const Polyline& line = town.cable(cable_id).lines.front();
    const Point2 beside{(line[0].x + line[1].x) / 2.0, (line[0].y + line[1].y) / 2.0};
    const double outward = way % 2 == 1 ? 1.0 : -1.0;
    const Point2 place = shifted(beside, 0.0, 8.0 * outward);
    Column& column = street.add_column(street.column_id(way, number), place);
    column.circuit = street.circuit(way);
    column.phase = "L1";
    Cable spur = like(town.cable(cable_id), street.cable_id(way, number),
                      {place, shifted(beside, 0.0, 0.15 * outward)});
    spur.circuit = street.circuit(way);
    town.lay(std::move(spur));
}

void build_rigging_street(Town& town) {
    Street street(town, {"RI", "Rigging Street", "Shore", 1, 4, 0.0});
    street.add_pillar();
    street.add_arm({.way = 1, .columns = 3});
    street.add_arm({.way = 2, .footway = Footway::south, .columns = 3});
    street.add_arm({.way = 3, .heading = Heading::west, .columns = 3});
    street.add_arm({.way = 4, .heading = Heading::west, .footway = Footway::south, .columns = 3});

    const Point2 last = *town.column("RI1-03").place;
    town.lay(like(town.cable("C-RI1-03"), "C-RI1-04", bent(last, shifted(last, 20.0, 0.0))));
    town.expect("live-end", "danger", "cables", "C-RI1-04",
                "way 1: a live cable that ends at nothing");

    const Point2 before = *town.column("RI2-03").place;
    Column& beyond = street.add_column("RI2-04", shifted(before, 20.0, 0.0));
    beyond.circuit = street.circuit(2);
    beyond.phase = "L1";
    town.lay(like(town.cable("C-RI2-03"), "C-RI2-04", bent(before, shifted(before, 18.2, 0.0))));
    town.expect("near-miss", "warning", "cables", "C-RI2-04",
                "way 2: a cable that ends 1.8 m short of column RI2-04");
    town.expect("not-traced", "fail", "columns", "RI2-04",
                "way 2: the column that the cable misses by 1.8 m");

    add_spur(town, street, 3, 4, "C-RI3-03");
    town.expect("tee-assumed", "note", "cables", "C-RI3-04",
                "way 3: a cable that ends 0.15 m from the middle of C-RI3-03, no joint recorded");

    // One line past RI4-02 in place of two that end there.
    const Point2 passed = *town.column("RI4-02").place;
    Cable& drawn_past = town.cable("C-RI4-02");
    drawn_past.lines = {
        {*town.column("RI4-01").place, shifted(passed, 0.0, -0.2), *town.column("RI4-03").place}};
    drawn_past.length_m = 42.0;
    std::erase_if(town.cables, [](const Cable& c) { return c.cable_id == "C-RI4-03"; });
    town.expect("cut-assumed", "note", "cables", "C-RI4-02",
                "way 4: a cable drawn past column RI4-02 at 0.2 m without an end there");
}

/// A spur whose label contradicts the cable it would tee into.
void build_sail_street(Town& town) {
    Street street(town, {"SA", "Sail Street", "Shore", 1, 5, 0.0});
    street.add_pillar();
    street.add_arm({.way = 1, .footway = Footway::south});
    street.add_arm({.way = 2, .columns = 2});
    add_spur(town, street, 2, 3, "C-SA1-03");
    town.expect("ambiguous-snap", "warning", "cables", "C-SA2-03",
                "a cable of circuit SA2 that ends 0.15 m from the middle of one of SA1");
    town.expect("not-traced", "fail", "cables", "C-SA2-03", "left unconnected, so not traced");
    town.expect("not-traced", "fail", "columns", "SA2-03",
                "the column at the other end of that cable");
}

} // namespace

void build_drawing_faults(Town& town) {
    build_rigging_street(town);
    build_sail_street(town);
}

} // namespace town
