// Streets that show the finer records, nothing wrong: several loads in a column, terminations,
// test readings, assets that are proposed, removed or disconnected.

#include "street.hpp"
#include "streets.hpp"

namespace town {
namespace {

/// Festive sockets, a camera and a small sign beside the lantern.
void build_lamp_quay(Town& town) {
    Street street(town, {"LA", "Lamp Quay", "Harbour", 0, 11, 0.0});
    street.add_pillar();
    street.add_arm({.columns = 6});
    for (const char* id : {"LA1-01", "LA1-03", "LA1-05"}) {
        town.loads.push_back({.column_id = id, .use = "lantern", .load_w = 36.0, .phase = "L1"});
        town.loads.push_back({.column_id = id,
                              .use = "festive socket",
                              .load_w = 100.0,
                              .phase = "L1",
                              .rcd_ma = 30.0,
                              .limit_s = 0.4});
    }
    town.loads.push_back({.column_id = "LA1-02", .use = "lantern", .load_w = 36.0, .phase = "L1"});
    town.loads.push_back({.column_id = "LA1-02", .use = "camera", .load_w = 15.0, .phase = "L1"});
    town.loads.push_back({.column_id = "LA1-04", .use = "lantern", .load_w = 36.0, .phase = "L1"});
    town.loads.push_back(
        {.column_id = "LA1-04", .use = "small sign", .load_w = 9.0, .phase = "L1"});
}

/// A would-be ring with an open point, and an armour that is not bonded beside a separate core.
void build_mooring_road(Town& town) {
    Street street(town, {"MO", "Mooring Road", "Harbour", 0, 12, 0.0});
    street.add_pillar();
    street.add_arm({.way = 1, .columns = 3});
    street.add_arm({.way = 1, .footway = Footway::south, .columns = 3, .first_number = 4});
    Cable closing;
    closing.cable_id = "C-MO1-X";
    closing.cable_type = "SWA XLPE Cu 2x6";
    closing.circuit = street.circuit(1);
    closing.lines = {bent(*town.column("MO1-03").place, *town.column("MO1-06").place)};
    town.lay(std::move(closing));
    town.terminations.push_back({.asset_id = "MO1-06", .cable_id = "C-MO1-X", .state = "open"});
    street.add_arm(
        {.way = 2, .heading = Heading::west, .columns = 4, .cable_type = "SWA XLPE Cu 3x6 both"});
    town.terminations.push_back(
        {.asset_id = "MO2-02", .cable_id = "C-MO2-02", .earth = "not bonded"});
}

/// Test readings that agree with the prediction.
void build_net_street(Town& town) {
    Street street(town, {"NE", "Net Street", "Shore", 1, 0, 0.0002});
    street.add_pillar();
    street.add_arm({.columns = 5});
    town.readings.push_back({.asset_id = "NE1-02", .zs_ohm = 0.52});
    town.readings.push_back({.asset_id = "NE1-05", .zs_ohm = 1.15});
}

/// A proposed stretch (it counts), a removed column and a disconnected cable (they do not).
void build_oar_street(Town& town) {
    Street street(town, {"OA", "Oar Street", "Shore", 1, 1, 0.0});
    street.add_pillar();
    street.add_arm({.way = 1, .columns = 5});
    street.add_arm({.way = 2, .footway = Footway::south, .columns = 5});
    for (int number = 4; number <= 5; ++number) {
        town.column(street.column_id(1, number)).status = "proposed";
        town.cable(street.cable_id(1, number)).status = "proposed";
    }
    Column& removed = street.add_column("OA-R1", street.at(-30.0, 5.0));
    removed.circuit = street.circuit(1);
    removed.status = "removed";
    Cable old;
    old.cable_id = "C-OA-OLD";
    old.cable_type = "SWA PVC Cu 2x6";
    old.status = "disconnected";
    old.lines = {bent(*town.column("OA1-03").place, *town.column("OA2-03").place)};
    town.lay(std::move(old));
}

} // namespace

void build_detail_streets(Town& town) {
    build_lamp_quay(town);
    build_mooring_road(town);
    build_net_street(town);
    build_oar_street(town);
}

} // namespace town
