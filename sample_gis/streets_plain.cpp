// Streets fed from pillars, nothing wrong: loops, tees, three phases.

#include "street.hpp"
#include "streets.hpp"
#include <array>

namespace town {
namespace {

/// The simplest: one pillar, one way, one looped circuit.
void build_anchor_street(Town& town) {
    Street street(town, {"AN", "Anchor Street", "Harbour", 0, 0, 0.0002});
    street.add_pillar();
    street.add_arm({.columns = 8});
}

/// Four ways on three phases, each with another cable.
void build_capstan_road(Town& town) {
    Street street(town, {"CA", "Capstan Road", "Harbour", 0, 2, -0.0002});
    street.add_pillar();
    street.add_arm({.way = 1, .columns = 5});
    street.add_arm({.way = 2,
                    .footway = Footway::south,
                    .columns = 5,
                    .cable_type = "SWA XLPE Cu 3x6",
                    .phase = "L2",
                    .fuse_a = 25.0});
    street.add_arm({.way = 3,
                    .heading = Heading::west,
                    .columns = 5,
                    .cable_type = "SWA XLPE Cu 3x6 both",
                    .phase = "L3",
                    .fuse_a = 20.0});
    street.add_arm({.way = 4,
                    .heading = Heading::west,
                    .footway = Footway::south,
                    .columns = 5,
                    .cable_type = "SWA PVC Cu 2x6"});
}

void add_tee(Town& town, const Street& street, Point2& from, int number, Point2 column) {
    const Text circuit = street.circuit(1);
    Joint tee;
    tee.joint_id = "J-" + circuit + "-" + std::to_string(number);
    tee.kind = "tee";
    tee.place = shifted(column, 0.0, -4.0);
    Cable run;
    run.cable_id = "C-" + circuit + "-R" + std::to_string(number);
    run.cable_type = "SWA XLPE Cu 2x6";
    run.circuit = circuit;
    run.lines = {bent(from, tee.place)};
    Cable branch = run;
    branch.cable_id = street.cable_id(1, number);
    branch.lines = {{tee.place, column}};
    town.lay(std::move(run));
    town.lay(std::move(branch));
    from = tee.place;
    town.joints.push_back(std::move(tee));
}

/// Columns teed off a run with recorded joints; the run ends in a pot end.
void build_fender_row(Town& town) {
    Street street(town, {"FE", "Fender Row", "Harbour", 0, 5, 0.0});
    street.add_pillar();
    street.add_way(1, "L1", 16.0);
    Point2 from = street.at(0.0, 0.0);
    for (int number = 1; number <= 6; ++number) {
        const Point2 place = street.at(-5.0 + 20.0 * number, 6.0);
        Column& column = street.add_column(street.column_id(1, number), place);
        column.circuit = street.circuit(1);
        column.phase = "L1";
        add_tee(town, street, from, number, place);
    }
    Joint end;
    end.joint_id = "J-FE1-7";
    end.kind = "pot end";
    end.place = street.at(128.0, 2.0);
    Cable tail;
    tail.cable_id = "C-FE1-R7";
    tail.cable_type = "SWA XLPE Cu 2x6";
    tail.circuit = street.circuit(1);
    tail.lines = {bent(from, end.place)};
    town.lay(std::move(tail));
    town.joints.push_back(std::move(end));
}

/// Three-phase ways: four and five cores, columns on the phases in turn.
void build_gangway(Town& town) {
    Street street(town, {"GA", "Gangway Street", "Hill", 0, 6, 0.0001});
    street.add_pillar();
    street.add_arm(
        {.way = 1, .columns = 9, .cable_type = "SWA XLPE Cu 4x16", .phase = "", .fuse_a = 25.0});
    street.add_arm({.way = 2,
                    .footway = Footway::south,
                    .columns = 6,
                    .cable_type = "SWA XLPE Cu 5x6",
                    .phase = "",
                    .fuse_a = 20.0});
    const std::array<const char*, 3> phases{"L1", "L2", "L3"};
    for (int way = 1; way <= 2; ++way) {
        for (int number = 1; number <= (way == 1 ? 9 : 6); ++number) {
            const Text id = street.column_id(way, number);
            town.column(id).phase = phases[static_cast<std::size_t>(number - 1) % phases.size()];
            town.expect("three-phase-in-column", "note", "columns", id,
                        "a way of three phases loops through: 400 V");
        }
    }
}

/// A wide road: four ways, taller columns, more load.
void build_quay_road(Town& town) {
    Street street(town, {"QU", "Quay Road", "Shore", 1, 3, 0.0001});
    street.add_pillar();
    for (int way = 1; way <= 4; ++way) {
        street.add_arm({.way = way,
                        .heading = way <= 2 ? Heading::east : Heading::west,
                        .footway = way % 2 == 1 ? Footway::north : Footway::south,
                        .columns = 5,
                        .spacing_m = 25.0,
                        .cable_type = way % 2 == 1 ? "SWA XLPE Cu 3x6" : "SWA XLPE Cu 2x6",
                        .phase = "L" + std::to_string((way - 1) % 3 + 1),
                        .fuse_a = way % 2 == 1 ? 20.0 : 16.0,
                        .load_w = 72.0});
    }
    for (Column& column : town.columns) {
        if (column.road == street.plot().road) {
            column.height_m = "10";
            column.tail_m = 11.5;
            column.tail_type = "Flat twin and earth 2.5";
            column.fuse_a = 10.0;
        }
    }
}

} // namespace

void build_plain_streets(Town& town) {
    build_anchor_street(town);
    build_capstan_road(town);
    build_fender_row(town);
    build_gangway(town);
    build_quay_road(town);
}

} // namespace town
