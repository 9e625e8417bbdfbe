#include "words.hpp"

#include "loopwalk/base/text.hpp"
#include "loopwalk/model/names.hpp"

#include <algorithm>
#include <cmath>

namespace loopwalk::sheet {
namespace {

using ends::CableEnd;
using ends::EndState;
using ends::StaysLive;

constexpr std::size_t kMostNamed = 12;
constexpr const char* kMore = ": see explain";

std::string listed(const std::vector<std::string>& names, std::size_t most) {
    return base::listed(names, most) + (names.size() > most ? kMore : "");
}

std::string other_end(const Maker& m, const CableEnd& end) {
    if (!end.other.is_valid()) {
        return "a place not known";
    }
    if (const auto main = m.results.ends.main_at(end.other)) {
        return "main " + m.text(m.layers().mains[main->index()].id);
    }
    return (end.state == EndState::at_nothing ? "nothing at " : "") + m.node_name(end.other);
}

std::string cable_name(const Maker& m, const CableEnd& end) {
    return m.text(m.layers().cables[end.cable.index()].id);
}

std::string end_words(const Maker& m, const CableEnd& end) {
    const bool is_out_of_use =
        end.state == EndState::recorded_removed || end.state == EndState::recorded_disconnected;
    const std::string feed =
        !end.fed_by.is_valid()
            ? "no source was found in the records, treat as live"
            : (is_out_of_use ? "if joined, live from " : "live from ") +
                  m.explain.feeds_of(m.results.trace.components[end.fed_by.index()]);
    return cable_name(m, end) + " to " + other_end(m, end) + ": " +
           std::string(ends::end_state_name(end.state)) + "; " + feed +
           (is_out_of_use || end.state == EndState::open_here ? "; may be live all the same" : "");
}

/// Ends by what becomes of them when something is drawn or opened.
std::string stays_words(const Maker& m, const std::string& what, const std::vector<CableEnd>& ends,
                        StaysLive CableEnd::*answer) {
    std::vector<std::string> live, unknown, off;
    for (const CableEnd& end : ends) {
        const std::string name = cable_name(m, end) + " (to " + other_end(m, end) + ")";
        switch (end.*answer) {
        case StaysLive::yes:
            live.push_back(name);
            break;
        case StaysLive::unknown:
        case StaysLive::not_asked:
            unknown.push_back(name);
            break;
        case StaysLive::no:
            off.push_back(name);
            break;
        }
    }
    std::string text = what + ":";
    text += live.empty() ? "" : " STAYS LIVE " + listed(live, live.size()) + ";";
    text += unknown.empty() ? ""
                            : " not known, treat as live, " + listed(unknown, unknown.size()) + ";";
    text += off.empty()
                ? ""
                : " no other feed in the records, prove it, " + listed(off, off.size()) + ";";
    text.back() = '.';
    return text;
}

bool is_asked(const std::vector<CableEnd>& ends, StaysLive CableEnd::*answer) {
    return std::ranges::any_of(
        ends, [&](const CableEnd& end) { return end.*answer != StaysLive::not_asked; });
}

} // namespace

Maker::Maker(const output::Results& r, protection::Judge& j)
    : results(r), judge(j), explain(r.layers(), r.catalogue, r.network, r.trace, r.figures) {}

std::string Maker::node_name(base::NodeId node) const {
    return network::node_name(layers(), net().snapped.nodes[node.index()]);
}

std::string Maker::way_name(base::WayId way) const {
    const network::Way& w = net().ways[way.index()];
    return text(layers().supplies[w.supply.index()].id) + "/" + text(w.name);
}

std::string Maker::device(base::DeviceId id) const {
    return id.is_valid() ? explain.fuse_text(net().devices[id.index()].fuse) + " at " +
                               explain.device_name(id)
                         : "not recorded";
}

std::string Maker::columns(const std::vector<base::ColumnId>& ids) const {
    std::vector<std::string> names;
    names.reserve(ids.size());
    for (const base::ColumnId id : ids) {
        names.push_back(text(layers().columns[id.index()].id));
    }
    return listed(names, kMostNamed);
}

std::string owner_large(model::Owner owner) {
    switch (owner) {
    case model::Owner::council:
        return "SUPPLY: THE COUNCIL'S";
    case model::Owner::distributor:
        return "SUPPLY: THE DISTRIBUTOR'S";
    case model::Owner::unknown:
        break;
    }
    return "NOT RECORDED: TREAT AS THE DISTRIBUTOR'S";
}

std::string control_words(model::Control control) {
    switch (control) {
    case model::Control::permanent:
        return "permanent supply";
    case model::Control::own_photocell:
        return "own photocell, live by day while the lamp is off";
    case model::Control::group_switched:
        return "GROUP SWITCHED, live at dusk without warning";
    case model::Control::switch_core:
        return "by a SWITCH CORE, live at dusk without warning";
    case model::Control::unknown:
        break;
    }
    return "not recorded, it may become live at dusk without warning";
}

std::string earthing_words(model::Earthing earthing) {
    const auto name = model::earthing_name(earthing);
    return name.empty() ? "not recorded" : std::string(name);
}

std::string metres(base::Metre length) {
    return base::short_text(std::round(length.value()), 6) + " m";
}

std::string stops_words(const Maker& m, const std::vector<Stop>& stops) {
    std::string text;
    for (const Stop& stop : stops) {
        text += (text.empty() ? "" : ", ") + m.node_name(stop.node) + " " + metres(stop.run);
    }
    return text;
}

void add_ends(const Maker& m, Sheet& sheet, base::NodeId asset, const Switches& switches) {
    const std::vector<CableEnd> ends =
        asset.is_valid() ? m.results.ends.at(asset) : std::vector<CableEnd>{};
    if (ends.empty()) {
        sheet.parts.push_back(
            {"cable_ends",
             "Cable ends in it",
             {"No cable is drawn or recorded here. There is one if anything works: treat as live."},
             1});
        return;
    }
    Part part{"cable_ends", "Cable ends in it, by the records", {}, 0};
    for (const CableEnd& end : ends) {
        part.items.push_back(end_words(m, end));
    }
    part.keep = part.items.size();
    sheet.parts.push_back(std::move(part));
    Part stays{"stays_live", "What stays live, by the records", {}, 0};
    const auto add = [&](const std::string& what, StaysLive CableEnd::*answer) {
        if (!what.empty() && is_asked(ends, answer)) {
            stays.items.push_back(stays_words(m, what, ends, answer));
        }
    };
    add(switches.fuse, &CableEnd::with_fuse_out);
    add(switches.way, &CableEnd::with_way_out);
    add(switches.supply, &CableEnd::with_supply_off);
    stays.keep = stays.items.size();
    if (stays.items.empty()) {
        stays = {"stays_live", stays.heading, {"Not known: treat every end as live."}, 1};
    }
    sheet.parts.push_back(std::move(stays));
}

void add_others(const Maker& m, Sheet& sheet, base::NodeId asset) {
    const double reach = m.results.job.rules.earths_within_reach.value();
    Part part{"others_within_reach",
              "Other equipment within reach (" + base::short_text(reach, 3) + " m)",
              {},
              1};
    const auto& nodes = m.net().snapped.nodes;
    for (std::size_t n = 0; asset.is_valid() && n < nodes.size(); ++n) {
        const double apart = base::distance(nodes[asset.index()].place, nodes[n].place);
        const bool is_asset = nodes[n].kind == network::NodeKind::column ||
                              nodes[n].kind == network::NodeKind::supply;
        if (base::NodeId(n) == asset || !is_asset || apart > reach) {
            continue;
        }
        std::string feed = "supply";
        if (nodes[n].kind == network::NodeKind::column) {
            const base::ColumnId id(nodes[n].asset);
            const trace::Component* c = trace::fed_component(m.net(), m.results.trace, id);
            feed = c == nullptr ? "no source was found in the records, treat as live"
                                : "fed from " + m.explain.feeds_of(*c);
            feed += ", earthing " + earthing_words(figures::earthing_of(m.layers(), m.net(),
                                                                        m.results.figures, id));
        }
        part.items.push_back(m.node_name(base::NodeId(n)) + " at " + base::short_text(apart, 2) +
                             " m: " + feed);
    }
    if (part.items.empty()) {
        part.items.emplace_back("None in the records; what the records lack may stand there.");
    }
    sheet.parts.push_back(std::move(part));
}

void add_findings(const Maker& m, Sheet& sheet, base::Concern asset,
                  std::vector<std::string> first) {
    Part part{"findings", "Worst findings", std::move(first), 0};
    const checks::Concerned concerned(m.layers(), m.net());
    bool has_any = false;
    for (const base::Finding& f : m.results.findings.all()) { // sorted, the worst first
        if (std::ranges::binary_search(concerned.by(f), asset)) {
            part.keep = has_any ? part.keep : part.items.size() + 1;
            has_any = true;
            part.items.push_back(std::string(base::severity_name(f.severity)) + ": " + f.message);
        }
    }
    if (!has_any) {
        part.items.emplace_back("No finding on record.");
        part.keep = part.items.size();
    }
    sheet.parts.push_back(std::move(part));
}

void add_route(const Maker& m, Sheet& sheet, base::VertexId vertex) {
    Part part{"route", "Along the cable, metres", {}, 0};
    std::vector<Stop> before = stops_to(m.results, vertex);
    if (before.empty()) {
        part.items.emplace_back("No source was found in the records: treat as live.");
        part.keep = 1;
        sheet.parts.push_back(std::move(part));
        return;
    }
    constexpr std::size_t kMostStops = 9;
    const std::size_t left_out =
        before.size() > kMostStops + 1 ? before.size() - kMostStops - 1 : 0;
    before.erase(before.begin() + 1, before.begin() + 1 + static_cast<std::ptrdiff_t>(left_out));
    part.items.push_back("From the source to here: " + stops_words(m, before) +
                         (left_out > 0 ? "; and " + std::to_string(left_out) +
                                             " more after the first" + std::string(kMore)
                                       : ""));
    std::vector<Stop> behind = stops_behind(m.results, vertex);
    const std::size_t more = behind.size() > kMostStops ? behind.size() - kMostStops : 0;
    behind.resize(behind.size() - more);
    part.items.push_back(
        behind.empty()
            ? std::string("Onward from here: nothing in the records.")
            : "Onward from here, branch by branch: " + stops_words(m, behind) +
                  (more > 0 ? " and " + std::to_string(more) + " more" + std::string(kMore) : ""));
    if (!is_simple(m.results, vertex)) {
        part.items.emplace_back("A closed loop or several ways feed it: one of the paths is named, "
                                "current comes over the others too.");
    }
    part.keep = part.items.size();
    sheet.parts.push_back(std::move(part));
}

std::string dark_words(const Maker& m, const std::string& what, base::VertexId first) {
    if (!is_simple(m.results, first)) {
        return what + ": not known, loops or several ways feed it; others may stay lit and live.";
    }
    const auto columns = columns_in(m.results, stops_behind(m.results, first));
    return what + ": " + (columns.empty() ? "no column" : std::to_string(columns.size())) +
           (columns.empty()
                ? " beyond it in the records."
                : (columns.size() == 1 ? " column, " : " columns, ") + m.columns(columns) + ".");
}

void add_blanks(Sheet& sheet) {
    sheet.blanks = {"Fuse found: ____________________  Instrument: __________________________",
                    "Readings  cut-out: _________ ohm  lantern: _________ ohm  supply: _________ V",
                    "Proved dead by: _______________________  at: ___________________________",
                    "Signature: ____________________________  date and time: ________________"};
}

} // namespace loopwalk::sheet
