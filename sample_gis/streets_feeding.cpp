// Streets fed by the distributor: direct services, a main, records without a cable, neighbours.

#include "street.hpp"
#include "streets.hpp"
#include <array>

namespace town {
namespace {

Main main_along(const Street& street, double half_m, double customers) {
    Main main;
    main.main_id = "M-" + street.plot().code;
    main.cable_type = "Main CNE Al 95";
    main.line = {street.at(-half_m, 0.0), street.at(0.0, 0.0), street.at(half_m, 0.0)};
    main.length_m = 2.0 * half_m + 2.0;
    main.customers = customers;
    return main;
}

/// The urban norm: each column on a service of its own, one of each kind of service cable.
void build_buoy_lane(Town& town) {
    Street street(town, {"BU", "Buoy Lane", "Harbour", 0, 1, 0.0});
    town.mains.push_back(main_along(street, 145.0, 64.0));
    const std::array<const char*, 12> cables{
        "Concentric CNE Cu 4",    "Concentric CNE Cu 6",    "Concentric CNE Cu 10",
        "Concentric CNE Cu 16",   "Concentric CNE Cu 25",   "Concentric CNE Al 25",
        "Concentric CNE Al 35",   "Concentric split Cu 4",  "Concentric split Cu 6",
        "Concentric split Cu 10", "Concentric split Cu 16", "Concentric split Cu 25"};
    for (std::size_t i = 0; i < cables.size(); ++i) {
        const double along = -130.0 + 23.0 * static_cast<double>(i);
        const double across = i % 2 == 0 ? 5.0 : -5.0;
        street.add_service_column(numbered(static_cast<int>(i) + 1, 2), street.at(along, across),
                                  street.at(along - 1.0, 0.0), cables[i]);
        if (Text(cables[i]).find("split") != Text::npos) {
            Supply& service = town.supplies.back();
            service.earthing = "TN-S";
            service.ze_ohm = 0.80;
            service.pscc_ka = 8.0;
        }
    }
}

/// The council holds no cable record: normal where the distributor owns the supply.
void build_dinghy_close(Town& town) {
    Street street(town, {"DI", "Dinghy Close", "Harbour", 0, 3, 0.0});
    for (int number = 1; number <= 6; ++number) {
        const Text id = "DI-" + numbered(number, 2);
        Column& column = street.add_column(id, street.at(-60.0 + 20.0 * number, 5.0));
        column.owner = "distributor";
        column.feed = "main";
        town.expect("not-traced", "note", "columns", id,
                    "Dinghy Close: the distributor's supply, no cable in the records");
    }
}

/// Service cables drawn from the line of the main itself.
void build_ebb_street(Town& town) {
    Street street(town, {"EB", "Ebb Street", "Harbour", 0, 4, 0.0});
    town.mains.push_back(main_along(street, 95.0, 41.0));
    for (int number = 1; number <= 8; ++number) {
        const Text id = "EB-" + numbered(number, 2);
        const double along = -90.0 + 20.0 * number;
        const double across = number % 2 == 0 ? 5.0 : -5.0;
        Column& column = street.add_column(id, street.at(along, across));
        column.owner = "distributor";
        column.feed = "main";
        Cable cable;
        cable.cable_id = "C-" + id;
        cable.cable_type = "Concentric CNE Cu 10";
        cable.owner = "distributor";
        cable.lines = {bent(street.at(along - 1.0, number == 3 ? 0.2 : 0.0), *column.place)};
        town.lay(std::move(cable));
    }
    town.expect("main-fuse-only", "note", "columns", "EB-01",
                "Ebb Street: services off the main, only the distributor's fuse before the "
                "cut-outs");
}

/// Adds a column fed from the one before it, 18 m to the east.
void add_neighbour(Town& town, Street& street, const Text& from, const Text& id) {
    const Point2 start = *town.column(from).place;
    Column& column = street.add_column(id, shifted(start, 18.0, 0.0));
    column.feed = "column";
    column.phase = "L1";
    Cable cable;
    cable.cable_id = "C-" + id;
    cable.cable_type = "SWA XLPE Cu 2x6";
    cable.lines = {bent(start, *column.place)};
    town.lay(std::move(cable));
}

/// The repair expedient: the next column feeds it, before its fuse or behind it.
void build_halyard_road(Town& town) {
    Street street(town, {"HA", "Halyard Road", "Hill", 0, 7, 0.0});
    street.add_service_column("01", street.at(-60.0, 5.0), street.at(-61.0, 0.0),
                              "Concentric CNE Cu 10");
    add_neighbour(town, street, "HA-01", "HA-02");
    street.add_service_column("03", street.at(0.0, 5.0), street.at(-1.0, 0.0),
                              "Concentric CNE Cu 10");
    add_neighbour(town, street, "HA-03", "HA-04");
    Column& sign = town.column("HA-04");
    sign.kind = "sign";
    sign.load_w = 18.0;
    sign.fuse_a = 4.0;
    town.terminations.push_back({.asset_id = "HA-03", .cable_id = "C-HA-04", .side = "fused"});
    town.expect("no-discrimination", "warning", "columns", "HA-04",
                "Halyard Road: 4 A behind the 6 A of HA-03");
}

/// A main with its substation on record: what starts on it needs no figures of its own.
void build_xebec_street(Town& town) {
    Street street(town, {"XE", "Xebec Street", "Harbour", 0, 13, 0.0});
    Supply substation;
    substation.supply_id = "N-XE";
    substation.kind = "substation";
    substation.road = "Xebec Street";
    substation.ze_ohm.reset();
    substation.ze_basis.clear();
    substation.pscc_ka.reset();
    substation.pscc3_ka.reset();
    substation.pscc_basis.clear();
    substation.fuse_type = "gG";
    substation.fuse_a = 400.0;
    substation.transformer_kva = 500.0;
    substation.transformer_z_pct = 4.5;
    substation.transformer_r_pct = 1.2;
    substation.place = street.at(-145.0, 0.0);
    town.supplies.push_back(substation);
    town.mains.push_back(main_along(street, 145.0, 52.0));
    Supply& pillar = street.add_pillar();
    for (Number Supply::*figure : {&Supply::ze_ohm, &Supply::pscc_ka, &Supply::pscc3_ka}) {
        (pillar.*figure).reset();
    }
    pillar.ze_basis.clear();
    pillar.pscc_basis.clear();
    street.add_arm({.way = 1, .columns = 5});
    for (int number = 1; number <= 3; ++number) {
        const double along = -120.0 + 25.0 * number;
        street.add_service_column(numbered(number, 2), street.at(along, -5.0),
                                  street.at(along - 1.0, 0.0), "Concentric CNE Cu 10");
        Supply& service = town.supplies.back();
        service.ze_ohm.reset();
        service.pscc_ka.reset();
        service.ze_basis.clear();
        service.pscc_basis.clear();
    }
}

} // namespace

void build_feeding_streets(Town& town) {
    build_buoy_lane(town);
    build_dinghy_close(town);
    build_ebb_street(town);
    build_halyard_road(town);
    build_xebec_street(town);
}

} // namespace town
