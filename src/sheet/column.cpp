// The sheet of a column.
#include "loopwalk/base/text.hpp"
#include "loopwalk/model/names.hpp"

#include "words.hpp"
#include <algorithm>

namespace loopwalk::sheet {
namespace {

using base::ColumnId;
using base::WayId;

const figures::ColumnFigures& figures_of(const Maker& m, ColumnId id) {
    return m.results.figures.columns[id.index()];
}

bool is_switched(model::Control control) {
    return control == model::Control::group_switched || control == model::Control::switch_core;
}

/// Its own, else its way's; and what else on its path is recorded as switched for many.
std::string switching_words(const Maker& m, ColumnId id) {
    const figures::ColumnFigures& f = figures_of(m, id);
    const auto row = f.infeed.is_valid() ? m.net().row_of(f.infeed) : std::nullopt;
    const model::Control way =
        row.has_value() ? m.layers().ways[row->index()].control : model::Control::unknown;
    const model::Control own = m.layers().columns[id.index()].control;
    std::string text = control_words(own != model::Control::unknown ? own : way);
    if (own != way && own != model::Control::unknown && is_switched(way)) {
        text += "; BUT its way: " + control_words(way);
    }
    for (base::VertexId v = f.vertex; v.is_valid(); v = m.results.trace.parent[v.index()]) {
        const base::EdgeId edge = m.results.trace.parent_edge[v.index()];
        if (!edge.is_valid() || !m.net().is_section(edge)) {
            continue;
        }
        const auto& cable = m.layers().cables[m.net().snapped.sections[edge.index()].cable.index()];
        if (is_switched(cable.control) && cable.control != own && cable.control != way) {
            return text + "; BUT cable " + m.text(cable.id) + ": " + control_words(cable.control);
        }
    }
    return text;
}

std::string phase_words(const Maker& m, ColumnId id) {
    const figures::ColumnFigures& f = figures_of(m, id);
    const auto named = [](model::Phase phase) {
        const auto name = model::phase_name(phase);
        return name.empty() ? std::string("not recorded") : std::string(name);
    };
    if (figures::is_three_phase(m.layers(), m.net(), m.results.figures.sources, f.infeed)) {
        return "THREE PHASES, 400 V between them; this column's phase: " +
               named(m.layers().columns[id.index()].phase);
    }
    return "phase: " + named(figures::phase_of(m.layers(), m.net(), f.infeed));
}

std::string feed_words(const Maker& m, ColumnId id) {
    const trace::Component* component = trace::fed_component(m.net(), m.results.trace, id);
    if (component == nullptr) {
        return "Fed from: not traced: no source was found in the records, treat as live.";
    }
    const figures::ColumnFigures& f = figures_of(m, id);
    std::string text = "Fed from: " + m.explain.feeds_of(*component);
    if (component->infeed_count > 1) {
        return text + ", ALL of which keep it live; " + phase_words(m, id) + ".";
    }
    if (f.nearest_way.is_valid() && f.nearest_way != m.net().way_of(f.infeed).value_or(WayId{})) {
        text += ", by way of section pillar " + m.way_name(f.nearest_way);
    }
    return text + "; " + phase_words(m, id) + ".";
}

std::string fuses_before(const Maker& m, ColumnId id) {
    const figures::ColumnFigures& f = figures_of(m, id);
    std::vector<base::DeviceId> devices{f.device};
    if (f.is_multi_fed) {
        const auto fed = m.results.figures.fed.find(id);
        devices = fed == m.results.figures.fed.end()
                      ? std::vector<base::DeviceId>{}
                      : m.results.figures.feeds[fed->second.feed]->devices();
    }
    const bool has_more = !f.is_multi_fed && f.infeed.is_valid(); // beyond a section pillar
    if (has_more && m.net().device_of(f.infeed).is_valid() &&
        m.net().device_of(f.infeed) != f.device) {
        devices.push_back(m.net().device_of(f.infeed));
    }
    std::vector<std::string> names;
    names.reserve(devices.size());
    for (const base::DeviceId device : devices) {
        const bool is_theirs = device.is_valid() && m.judge.devices().is_distributors(device);
        names.push_back(m.device(device) + (is_theirs ? " (THE DISTRIBUTOR'S)" : ""));
    }
    return "Fuse before it, by the records: " +
           (names.empty() ? std::string("not recorded") : base::listed(names, names.size())) + ".";
}

/// What brings the earth: "armour", and the like, of every cable on the path.
std::string path_conductors(const Maker& m, base::VertexId vertex) {
    std::vector<std::string> kinds;
    for (base::VertexId v = vertex; v.is_valid(); v = m.results.trace.parent[v.index()]) {
        const base::EdgeId edge = m.results.trace.parent_edge[v.index()];
        if (!edge.is_valid() || !m.net().is_section(edge)) {
            continue;
        }
        const auto cable = m.net().snapped.sections[edge.index()].cable;
        const auto type = m.layers().cables[cable.index()].type.type;
        std::string kind = "a path not recorded";
        if (type.is_valid()) {
            switch (m.results.catalogue.cable(type).earth_path) {
            case catalogue::EarthPath::armour:
                kind = "armour or sheath";
                break;
            case catalogue::EarthPath::cpc:
                kind = "an earth core";
                break;
            case catalogue::EarthPath::armour_and_cpc:
                kind = "armour and an earth core";
                break;
            case catalogue::EarthPath::neutral:
                kind = "the combined neutral and earth";
                break;
            case catalogue::EarthPath::none:
                kind = "NO earth conductor";
                break;
            }
        }
        if (std::ranges::find(kinds, kind) == kinds.end()) {
            kinds.push_back(kind);
        }
    }
    std::ranges::sort(kinds);
    return kinds.empty() ? "" : " over " + base::listed(kinds, kinds.size());
}

std::string earthing_of(const Maker& m, ColumnId id) {
    const figures::ColumnFigures& f = figures_of(m, id);
    std::string text =
        "Earthing: " +
        earthing_words(figures::earthing_of(m.layers(), m.net(), m.results.figures, id)) +
        "; path back to the source";
    if (!f.vertex.is_valid() || !f.infeed.is_valid()) {
        return text + ": not recorded.";
    }
    text += path_conductors(m, f.vertex);
    switch (f.earth) {
    case impedance::EarthPathState::intact:
        return text + "; no break of it in the records.";
    case impedance::EarthPathState::unknown:
        return text + ", NOT KNOWN to be whole.";
    case impedance::EarthPathState::broken:
        return text + ", recorded as BROKEN: metalwork may be live.";
    }
    return text;
}

void add_supply(const Maker& m, Sheet& sheet, ColumnId id) {
    const model::Column& column = m.layers().columns[id.index()];
    Part part{"supply", "What feeds it, by the records", {}, 0};
    if (!model::conducts(column.status)) {
        part.items.emplace_back(
            "RECORDED AS REMOVED OR DISCONNECTED. It may be live all the same.");
    } else if (column.status == model::Status::unclear) {
        part.items.emplace_back("Its status in the records is not clear: treat as live.");
    }
    part.items.push_back(feed_words(m, id));
    part.items.push_back(
        "Fuse expected here: " +
        (column.fuse.is_absent() ? std::string("not recorded") : m.explain.fuse_text(column.fuse)) +
        ". " + fuses_before(m, id));
    for (const model::Load& load : m.layers().loads) {
        if (load.column_id == column.id) {
            part.items.push_back(
                "Load " + (load.use.is_valid() ? m.text(load.use) : "of unknown use") + ": fuse " +
                (load.fuse.is_absent() ? std::string("not recorded of its own")
                                       : m.explain.fuse_text(load.fuse)) +
                ".");
        }
    }
    part.items.push_back("Switching: " + switching_words(m, id) + ".");
    part.items.push_back(earthing_of(m, id));
    const model::Owner path = m.judge.facts().owner_of_path(id);
    if (figures_of(m, id).infeed.is_valid() && path != column.owner) {
        part.items.push_back(std::string("Cables on its path: ") +
                             (path == model::Owner::council ? "the council's"
                              : path == model::Owner::distributor
                                  ? "the distributor's, or not drawn"
                                  : "owner not recorded, treat as the distributor's") +
                             ".");
    }
    part.keep = part.items.size();
    sheet.parts.push_back(std::move(part));
}

std::string ohms(base::Ohm value) {
    return base::short_text(value.value(), 3) + " ohm";
}

/// What a cold reading must not pass so that a fault opens the device of a side; none if not known.
base::Maybe<base::Ohm> most_cold(const Maker& m, ColumnId id, const protection::Side& side) {
    if (side.is_rcd || !side.zs_limit.has_value()) {
        return {};
    }
    const base::Ohm limit = *side.zs_limit;
    const base::Ohm share = limit * m.results.job.rules.reading_share;
    const base::Ohm path = m.judge.readings().highest_cold(limit, m.judge.test_path(id));
    return side.is_beyond && share < path ? share : path; // the growth is worked without the tail
}

std::string limit_words(const Maker& m, ColumnId id, const protection::Side& side) {
    if (side.is_rcd) {
        return "; TT, no fuse opens on it, only an RCD can: see the verdict";
    }
    const auto most = most_cold(m, id, side);
    return most.has_value() ? ", NOT ABOVE " + ohms(*most) + " cold (limit " +
                                  ohms(*side.zs_limit) + " with hot conductors)"
                            : "; the most it may read is not known from the records";
}

/// At a lantern a reading may already break the limit of the fuse before the column.
std::string lantern_limit(const Maker& m, ColumnId id, const protection::Judgement& judgement) {
    const auto in = most_cold(m, id, judgement.in);
    const auto out = most_cold(m, id, judgement.out);
    if (in.has_value() && out.has_value() && *in < *out) {
        return "; above " + ohms(*in) + " test at the cut-out too, NEVER ABOVE " + ohms(*out) +
               " cold";
    }
    return limit_words(m, id, judgement.out);
}

void add_readings(Maker& m, Sheet& sheet, ColumnId id, const protection::Judgement& judgement) {
    const figures::ColumnFigures& f = figures_of(m, id);
    Part part{"readings", "Loop readings to expect, conductors at 20 C", {}, 0};
    if (!figures::has_figures(f.state)) {
        part.items.emplace_back("Not known from the records: nothing to compare a reading with.");
    } else {
        const bool has_band = f.z20_low.has_value() && f.z20_high.has_value();
        const std::string none = "not known from the records";
        part.items.push_back(
            "Cut-out: " + (has_band ? ohms(*f.z20_low) + " to " + ohms(*f.z20_high) : none) +
            limit_words(m, id, judgement.in));
        part.items.push_back(
            "Lantern: " +
            (has_band ? ohms(*f.z20_low) + " to " + ohms(*f.z20_high + m.judge.tail_ohms(id))
                      : none) +
            lantern_limit(m, id, judgement));
        part.items.push_back("A low reading proves nothing: buried metal makes parallel paths.");
    }
    if (f.pscc_high_ka.has_value()) {
        part.items.push_back("Largest prospective current at the cut-out: up to " +
                             base::short_text((*f.pscc_high_ka).value(), 3) + " kA.");
    }
    part.keep = part.items.size();
    sheet.parts.push_back(std::move(part));
}

void add_dark(const Maker& m, Sheet& sheet, ColumnId id) {
    const figures::ColumnFigures& f = figures_of(m, id);
    Part part{"goes_dark", "What else goes dark, by the records", {}, 0};
    const base::VertexId fused =
        m.net().fused_side.empty() ? base::VertexId{} : m.net().fused_side[id.index()];
    part.items.push_back(
        fused.is_valid()
            ? dark_words(m, "This column's fuse drawn", fused)
            : std::string("This column's fuse drawn: nothing else is recorded behind it."));
    if (f.nearest_way.is_valid()) {
        part.items.push_back(dark_words(m, "Way " + m.way_name(f.nearest_way) + " opened",
                                        m.net().ways[f.nearest_way.index()].vertex));
    }
    part.keep = part.items.size();
    sheet.parts.push_back(std::move(part));
}

std::string supply_switch(const Maker& m, const figures::ColumnFigures& f) {
    if (!f.infeed.is_valid() || f.state == figures::FigureState::several) {
        return f.infeed.is_valid() ? "Any one of its supplies off" : "Its supply off";
    }
    const auto supply = m.net().supply_of(f.infeed);
    return supply.has_value() ? "Supply " + m.text(m.layers().supplies[supply->index()].id) + " off"
                              : "Main " + m.explain.infeed_name(f.infeed) + " off";
}

} // namespace

void fill_column(Maker& m, Sheet& sheet, ColumnId id) {
    const model::Column& column = m.layers().columns[id.index()];
    const figures::ColumnFigures& f = figures_of(m, id);
    sheet.large = owner_large(column.owner);
    sheet.title = "Column " + sheet.id +
                  ", road: " + (column.road.is_valid() ? m.text(column.road) : "not recorded") +
                  ", area: " + (column.area.is_valid() ? m.text(column.area) : "not recorded");
    const protection::Judgement judgement = m.judge.column(id);
    const base::NodeId node = m.net().snapped.column_node[id.index()];
    add_supply(m, sheet, id);
    add_ends(m, sheet, node,
             {"This column's fuse drawn",
              f.is_multi_fed             ? "Any one of its ways opened"
              : f.nearest_way.is_valid() ? "Way " + m.way_name(f.nearest_way) + " opened"
                                         : "The way that feeds it opened",
              supply_switch(m, f)});
    add_readings(m, sheet, id, judgement);
    add_route(m, sheet, f.vertex);
    add_others(m, sheet, node);
    add_dark(m, sheet, id);
    add_findings(m, sheet, {base::AssetLayer::columns, static_cast<std::uint32_t>(id.index())},
                 {"Verdict: " + m.explain.column(id, judgement) + "."});
}

} // namespace loopwalk::sheet
