// The first lines of a column's page: what the person at its door needs before any figure.
#include "loopwalk/base/text.hpp"
#include "loopwalk/model/names.hpp"

#include "column_sides.hpp"

namespace loopwalk::report {
namespace {

using base::ColumnId;
using figures::FigureState;
using model::Control;

std::string owner_text(model::Owner owner) {
    switch (owner) {
    case model::Owner::council:
        return "the council's";
    case model::Owner::distributor:
        return "the distributor's";
    case model::Owner::unknown:
        break;
    }
    return "not recorded (treat as the distributor's)";
}

std::string control_text(Control control) {
    switch (control) {
    case Control::permanent:
        return "permanent supply";
    case Control::own_photocell:
        return "own photocell: live by day while the lamp is off";
    case Control::group_switched:
        return "group switched: it becomes live at dusk without warning";
    case Control::switch_core:
        return "by a switch core: it becomes live at dusk without warning";
    case Control::unknown:
        break;
    }
    return "not recorded: it may become live at dusk without warning";
}

Control control_of(const Context& c, ColumnId id) {
    const Control own = c.layers().columns[id.index()].control;
    const figures::ColumnFigures& figures = c.results.figures.columns[id.index()];
    if (own != Control::unknown || !figures.infeed.is_valid()) {
        return own;
    }
    const auto row = c.net().row_of(figures.infeed);
    return row.has_value() ? c.layers().ways[row->index()].control : Control::unknown;
}

/// "P/1, phase L1, BS 88-2 16 A".
std::string feed_text(const Context& c, ColumnId id) {
    const figures::ColumnFigures& figures = c.results.figures.columns[id.index()];
    const trace::Component* component = trace::fed_component(c.net(), c.results.trace, id);
    if (component == nullptr) {
        return "no source was found in the records: treat as live";
    }
    std::string text = c.explain.feeds_of(*component);
    if (component->infeed_count > 1) {
        return text + ", all of which keep it live";
    }
    if (figures.nearest_way.is_valid() &&
        figures.nearest_way != c.net().way_of(figures.infeed).value_or(base::WayId{})) {
        const network::Way& way = c.net().ways[figures.nearest_way.index()];
        text += ", by way of section pillar " + c.text(c.layers().supplies[way.supply.index()].id) +
                "/" + c.text(way.name);
    }
    if (c.is_three_phase(figures.infeed)) {
        const auto phase = model::phase_name(c.layers().columns[id.index()].phase);
        text += ", three phases: 400 V between them; this column's phase " +
                (phase.empty() ? "is not recorded" : std::string(phase) + " by the records");
    } else {
        const auto phase =
            model::phase_name(figures::phase_of(c.layers(), c.net(), figures.infeed));
        text += phase.empty() ? ", phase not recorded" : ", phase " + std::string(phase);
    }
    const auto devices =
        figures.is_multi_fed ? std::vector<base::DeviceId>{} : std::vector{figures.device};
    if (!devices.empty() && devices.front().is_valid()) {
        text += ", behind " + c.explain.fuse_text(c.net().devices[devices.front().index()].fuse) +
                " of " + c.explain.device_name(devices.front());
    }
    return text;
}

std::string reading_text(const Context& c, ColumnId id, const protection::Judgement& judgement) {
    const figures::ColumnFigures& figures = c.results.figures.columns[id.index()];
    std::string text;
    if (figures.z20_low.has_value() && figures.z20_high.has_value()) {
        text = base::short_text((*figures.z20_low).value(), 3) + " to " +
               base::short_text((*figures.z20_high).value(), 3) + " ohm at 20 C";
    } else {
        text = "not known from the records";
    }
    if (judgement.in.zs_limit.has_value() && !judgement.in.is_rcd) {
        const base::Ohm limit = *judgement.in.zs_limit;
        const base::Ohm most = c.judge.readings().highest_cold(limit, c.judge.test_path(id));
        text += ", and not above " + base::short_text(most.value(), 3) +
                " ohm cold (the device's limit is " + base::short_text(limit.value(), 3) +
                " ohm with hot conductors)";
    }
    return text;
}

std::string worst_text(const Context& c, ColumnId id) {
    const checks::AssetStanding& standing = c.results.standing.columns[id.index()];
    if (standing.findings == 0) {
        return "none on record";
    }
    return std::string(base::severity_name(standing.severity)) + ", " +
           std::string(base::rule_name(standing.rule)) +
           (standing.findings > 1
                ? ", and " + std::to_string(standing.findings - 1) + " more (below)"
                : " (below)");
}

} // namespace

void write_door(Context& c, ColumnId id, const protection::Judgement& judgement) {
    const model::Column& column = c.layers().columns[id.index()];
    c.page.heading("At the door");
    std::vector<std::string> items;
    if (column.road.is_valid()) {
        items.push_back("Road: " + c.text(column.road) + ".");
    }
    items.push_back("Worst finding: " + worst_text(c, id) + ".");
    items.push_back("Its supply is " + owner_text(column.owner) + ".");
    items.push_back("Fed from: " + feed_text(c, id) + ".");
    items.push_back("Its own fuse, by the records: " +
                    (column.fuse.is_absent() ? "not recorded" : c.explain.fuse_text(column.fuse)) +
                    ".");
    items.push_back("Switching: " + control_text(control_of(c, id)) + ".");
    items.push_back("A loop test at the cut-out should read: " + reading_text(c, id, judgement) +
                    ".");
    c.page.add(Bullets{items});
}

} // namespace loopwalk::report
