#include "street.hpp"

#include <algorithm>

namespace town {
namespace {

// Open sea, see README.md: no real town can be meant.
constexpr Point2 kTownCorner{150000.0, 1100000.0};
constexpr double kBlockM = 450.0;
constexpr double kRowM = 45.0;
constexpr double kMiddleM = 210.0;
constexpr double kFootwayM = 5.0;
constexpr double kFirstColumnM = 10.0;

} // namespace

Point2 Street::at(double along, double across) const {
    return shifted(kTownCorner, kBlockM * m_plot.block + kMiddleM + along,
                   kRowM * m_plot.row + across + m_plot.curve * along * along);
}

Text Street::column_id(int way, int number) const {
    return circuit(way) + "-" + numbered(number, 2);
}

Text Street::cable_id(int way, int number) const {
    return "C-" + column_id(way, number);
}

Point2 Street::place_on(const Arm& arm, int position) const {
    const double distance = kFirstColumnM + arm.spacing_m * (position - 1);
    return at(arm.heading == Heading::east ? distance : -distance,
              arm.footway == Footway::north ? kFootwayM : -kFootwayM);
}

Supply& Street::add_pillar() {
    Supply pillar;
    pillar.supply_id = pillar_id();
    pillar.road = m_plot.road;
    pillar.place = at(0.0, 0.0);
    m_town.supplies.push_back(pillar);
    return m_town.supplies.back();
}

Way& Street::add_way(int way, const Text& phase, double fuse_a) {
    Way row;
    row.supply_id = pillar_id();
    row.way = std::to_string(way);
    row.circuit = circuit(way);
    row.phase = phase;
    row.fuse_a = fuse_a;
    m_town.ways.push_back(row);
    return m_town.ways.back();
}

Column& Street::add_column(const Text& id, Point2 place) {
    Column column;
    column.column_id = id;
    column.road = m_plot.road;
    column.area = m_plot.area;
    column.place = place;
    m_town.columns.push_back(column);
    return m_town.columns.back();
}

void Street::add_arm(const Arm& arm) {
    const bool has_way = std::ranges::any_of(
        m_town.ways, [&](const Way& w) { return w.circuit == circuit(arm.way); });
    if (!has_way) {
        add_way(arm.way, arm.phase, arm.fuse_a);
    }
    Point2 from = at(0.0, 0.0);
    for (int i = 1; i <= arm.columns; ++i) {
        const int number = arm.first_number + i - 1;
        const Point2 place = place_on(arm, i);
        Column& column = add_column(column_id(arm.way, number), place);
        column.circuit = circuit(arm.way);
        column.phase = arm.phase;
        column.load_w = arm.load_w;
        Cable cable;
        cable.cable_id = cable_id(arm.way, number);
        cable.cable_type = arm.cable_type;
        cable.circuit = circuit(arm.way);
        cable.lines = {bent(from, place)};
        m_town.lay(std::move(cable));
        from = place;
    }
}

Column& Street::add_service_column(const Text& number, Point2 place, Point2 service_place,
                                   const Text& cable_type) {
    const Text id = m_plot.code + "-" + number;
    Supply service;
    service.supply_id = "S-" + id;
    service.kind = "service";
    service.road = m_plot.road;
    service.ze_ohm = 0.35;
    service.ze_basis = "declared";
    service.pscc_ka = 12.0;
    service.pscc3_ka.reset();
    service.pscc_basis = "declared";
    service.phases = 1.0;
    service.fuse_type = "BS 1361";
    service.fuse_a = 60.0;
    service.place = service_place;
    m_town.supplies.push_back(service);

    Cable cable;
    cable.cable_id = "C-" + id;
    cable.cable_type = cable_type;
    cable.owner = "distributor";
    cable.lines = {bent(service_place, place)};
    m_town.lay(std::move(cable));

    Column& column = add_column(id, place);
    column.owner = "distributor";
    column.feed = "main";
    column.phase = "L1";
    if (!m_has_service) { // one finding for the road
        m_town.expect("main-fuse-only", "note", "columns", id,
                      m_plot.road +
                          ": direct services, only the distributor's fuse before the cut-outs");
    }
    m_has_service = true;
    return m_town.columns.back();
}

} // namespace town
