// Every cable end in an asset, as a table: where it goes, what feeds it, what keeps it live.
#include "parts.hpp"

namespace loopwalk::report {
namespace {

using ends::CableEnd;
using ends::StaysLive;

std::string other_end(const Context& c, const CableEnd& end) {
    if (!end.other.is_valid()) {
        return "not known";
    }
    const auto main = c.results.ends.main_at(end.other);
    const bool is_nothing = end.state == ends::EndState::at_nothing;
    return main.has_value() ? "main " + c.text(c.layers().mains[main->index()].id)
           : is_nothing     ? "nothing (" + c.node_name(end.other) + ")"
                            : c.node_name(end.other);
}

std::string fed_from(const Context& c, const CableEnd& end) {
    if (!end.fed_by.is_valid()) {
        return "no source found";
    }
    const bool is_out_of_use = end.state == ends::EndState::recorded_removed ||
                               end.state == ends::EndState::recorded_disconnected;
    return (is_out_of_use ? "if joined, " : "") +
           c.explain.feeds_of(c.results.trace.components[end.fed_by.index()]);
}

std::string stays(StaysLive live) {
    switch (live) {
    case StaysLive::no:
        return "no, by the records";
    case StaysLive::yes:
        return "YES";
    case StaysLive::unknown:
        return "not known: treat as live";
    case StaysLive::not_asked:
        break;
    }
    return "-";
}

} // namespace

void write_ends(Context& c, base::NodeId asset) {
    c.page.heading("Cables in it");
    const std::vector<CableEnd> ends =
        asset.is_valid() ? c.results.ends.at(asset) : std::vector<CableEnd>{};
    if (ends.empty()) {
        c.page.paragraph("No cable is drawn or recorded here. There is one if anything works.");
        return;
    }
    const bool is_supply = c.net().snapped.nodes[asset.index()].kind == network::NodeKind::supply;
    Table table{{{"cable"},
                 {"to"},
                 {"state"},
                 {"fed from"},
                 {"live with the fuse here out"},
                 {is_supply ? "live with its own way out" : "live with the way out"},
                 {"live with the supply off"}},
                {}};
    for (const CableEnd& end : ends) {
        table.rows.push_back({c.text(c.layers().cables[end.cable.index()].id), other_end(c, end),
                              std::string(ends::end_state_name(end.state)), fed_from(c, end),
                              stays(end.with_fuse_out), stays(end.with_way_out),
                              stays(end.with_supply_off)});
    }
    c.page.add(std::move(table));
    c.page.paragraph("By the records alone; prove dead at the point of work.");
}

} // namespace loopwalk::report
