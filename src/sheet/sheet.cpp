// Sheets of supplies, ways and joints, and which sheets a round has.
#include "loopwalk/sheet/sheet.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"
#include "loopwalk/model/names.hpp"

#include "words.hpp"
#include <algorithm>
#include <set>
#include <tuple>

namespace loopwalk::sheet {
namespace {

using base::AssetLayer;
using base::ColumnId;
using base::InfeedId;
using base::WayId;
using output::Results;

model::Owner owner_of(const model::Supply& supply) {
    switch (supply.kind) {
    case model::SupplyKind::pillar:
    case model::SupplyKind::section_pillar:
        return model::Owner::council;
    case model::SupplyKind::service:
    case model::SupplyKind::substation:
        return model::Owner::distributor;
    case model::SupplyKind::unknown:
        break;
    }
    return model::Owner::unknown;
}

std::string kind_words(model::SupplyKind kind) {
    switch (kind) {
    case model::SupplyKind::pillar:
        return "Pillar";
    case model::SupplyKind::section_pillar:
        return "Section pillar (no source: traced through)";
    case model::SupplyKind::service:
        return "Service";
    case model::SupplyKind::substation:
        return "Substation";
    case model::SupplyKind::unknown:
        break;
    }
    return "Supply of unknown kind";
}

std::string figure(const auto& value, const char* unit) {
    return value.has_value() ? base::short_text((*value).value(), 4) + unit
                             : std::string("not recorded");
}

std::string phase_of(const Maker& m, const network::Way& way) {
    const auto& supply = m.layers().supplies[way.supply.index()];
    const auto phase =
        way.row.is_valid() ? m.layers().ways[way.row.index()].phase : model::Phase::unknown;
    const auto name = model::phase_name(phase);
    if (!name.empty()) {
        return "phase " + std::string(name);
    }
    if (supply.phases.has_value()) {
        return (*supply.phases).value() > 1.0 ? "THREE PHASES, 400 V between them"
                                              : "single-phase supply";
    }
    return "phases not recorded, 400 V may be present";
}

std::string way_words(const Maker& m, WayId id) {
    const network::Way& way = m.net().ways[id.index()];
    const auto control =
        way.row.is_valid() ? m.layers().ways[way.row.index()].control : model::Control::unknown;
    return "Way " + m.way_name(id) + ": " +
           (way.device.is_valid() ? m.explain.fuse_text(m.net().devices[way.device.index()].fuse)
                                  : std::string("no fuse of its own on record")) +
           ", " + phase_of(m, way) + ", switching " + control_words(control) + ".";
}

void add_supply_figures(const Maker& m, Sheet& sheet, base::SupplyId id, WayId only) {
    const model::Supply& supply = m.layers().supplies[id.index()];
    Part part{"supply", "What it is, by the records", {}, 0};
    if (!model::conducts(supply.status)) {
        part.items.emplace_back(
            "RECORDED AS REMOVED OR DISCONNECTED. It may be live all the same.");
    }
    if (!model::is_distributors(supply.kind)) {
        part.items.emplace_back("Owner by its kind alone. What comes into it is the distributor's "
                                "or another pillar's, and stays live.");
    }
    part.items.push_back(
        "Earthing: " + earthing_words(supply.earthing) + "; Ze: " + figure(supply.ze, " ohm") +
        "; prospective current: " + figure(supply.pscc_ka, " kA") + "; fuse before it: " +
        (supply.fuse.is_absent() ? std::string("not recorded") : m.explain.fuse_text(supply.fuse)) +
        ".");
    part.keep = part.items.size();
    for (std::size_t w = 0; w < m.net().ways.size(); ++w) {
        if (m.net().ways[w].supply == id && (!only.is_valid() || only == WayId(w))) {
            part.items.push_back(way_words(m, WayId(w)));
        }
    }
    sheet.parts.push_back(std::move(part));
}

void add_ways_dark(const Maker& m, Sheet& sheet, base::SupplyId id, WayId only) {
    Part part{"goes_dark", "What goes dark, by the records", {}, 1};
    for (std::size_t w = 0; w < m.net().ways.size(); ++w) {
        if (m.net().ways[w].supply == id && (!only.is_valid() || only == WayId(w))) {
            part.items.push_back(
                dark_words(m, "Way " + m.way_name(WayId(w)) + " opened", m.net().ways[w].vertex));
        }
    }
    if (part.items.empty()) {
        part.items.emplace_back("No way of it is in the records.");
    }
    sheet.parts.push_back(std::move(part));
}

std::set<ColumnId> all_of(const Results& r, WayId way) {
    const auto columns = columns_in(r, stops_behind(r, r.network.ways[way.index()].vertex));
    std::set<ColumnId> found(columns.begin(), columns.end());
    const trace::Component* component = r.trace.find(r.network.ways[way.index()].vertex);
    const bool is_source = component != nullptr &&
                           std::ranges::any_of(r.trace.infeeds_of(*component), [&](InfeedId i) {
                               return r.network.way_of(i) == way;
                           });
    for (std::size_t c = 0; is_source && c < r.layers().columns.size(); ++c) {
        if (model::conducts(r.layers().columns[c].status) &&
            trace::fed_component(r.network, r.trace, ColumnId(c)) == component) {
            found.insert(ColumnId(c)); // joined by cables: the way feeds it as well
        }
    }
    return found;
}

auto walking_key(const Results& r, ColumnId id) {
    const figures::ColumnFigures& f = r.figures.columns[id.index()];
    const bool is_fed = f.infeed.is_valid();
    return std::tuple(is_fed ? f.infeed.index() : r.network.infeeds.size(),
                      is_fed ? f.nearest_way.index() : 0, is_fed ? f.run.value() : 0.0, id);
}

void sort_walking(const Results& r, std::vector<ColumnId>& columns) {
    std::ranges::sort(columns, {}, [&](ColumnId id) { return walking_key(r, id); });
}

std::vector<report::Asset> as_assets(const std::vector<ColumnId>& columns) {
    std::vector<report::Asset> assets;
    assets.reserve(columns.size());
    for (const ColumnId id : columns) {
        assets.push_back({AssetLayer::columns, id.index()});
    }
    return assets;
}

} // namespace

std::string_view purpose() {
    return "Information to help plan work, from records. This is not a permit. "
           "Treat everything as live until you have tested it yourself.";
}

void fill_supply(Maker& m, Sheet& sheet, base::SupplyId id) {
    const model::Supply& supply = m.layers().supplies[id.index()];
    sheet.large = owner_large(owner_of(supply));
    sheet.title = kind_words(supply.kind) + " " + sheet.id;
    const base::NodeId node = m.net().snapped.supply_node[id.index()];
    add_supply_figures(m, sheet, id, {});
    add_ends(m, sheet, node, {"", "Its own way of each opened", "This supply off"});
    add_ways_dark(m, sheet, id, {});
    add_others(m, sheet, node);
    add_findings(m, sheet, {AssetLayer::supplies, static_cast<std::uint32_t>(id.index())}, {});
}

void fill_way(Maker& m, Sheet& sheet, WayId id) {
    const network::Way& way = m.net().ways[id.index()];
    const model::Supply& supply = m.layers().supplies[way.supply.index()];
    sheet.large = owner_large(owner_of(supply));
    sheet.title = "Way " + sheet.id + " of " + kind_words(supply.kind) + " " + m.text(supply.id);
    const base::NodeId node = m.net().snapped.supply_node[way.supply.index()];
    add_supply_figures(m, sheet, way.supply, id);
    add_ends(m, sheet, node, {"", "Each end's own way opened", "This supply off"});
    add_route(m, sheet, way.vertex);
    add_ways_dark(m, sheet, way.supply, id);
    add_others(m, sheet, node);
    add_findings(m, sheet, {AssetLayer::ways, static_cast<std::uint32_t>(id.index())}, {});
}

void fill_joint(Maker& m, Sheet& sheet, base::JointId id) {
    const base::NodeId node = m.net().snapped.joint_node[id.index()];
    sheet.large = owner_large(model::Owner::unknown);
    sheet.title = "Joint " + sheet.id;
    const base::DeviceId device = m.net().joint_device[id.index()];
    const trace::Component* feed = node.is_valid() ? m.results.ends.own_feed(node) : nullptr;
    sheet.parts.push_back(
        {"supply",
         "What feeds it, by the records",
         {"Fed from: " +
              (feed == nullptr ? std::string("not traced: no source was found in the records, "
                                             "treat as live")
                               : m.explain.feeds_of(*feed)) +
              ".",
          "Fuse in it: " + (device.is_valid() ? m.device(device) : std::string("none recorded")) +
              "."},
         2});
    add_ends(m, sheet, node,
             {"The fuse in this joint drawn", "The way that feeds it opened",
              "The supply that feeds it off"});
    add_route(m, sheet, node.is_valid() ? base::VertexId(node.index()) : base::VertexId{});
    add_others(m, sheet, node);
    add_findings(m, sheet, {AssetLayer::joints, static_cast<std::uint32_t>(id.index())}, {});
}

Sheet make_sheet(const Results& results, protection::Judge& judge, report::Asset asset) {
    Maker m(results, judge);
    Sheet sheet;
    sheet.layer = asset.layer;
    switch (asset.layer) {
    case AssetLayer::columns:
        sheet.id = m.text(m.layers().columns[asset.index].id);
        fill_column(m, sheet, ColumnId(asset.index));
        break;
    case AssetLayer::supplies:
        sheet.id = m.text(m.layers().supplies[asset.index].id);
        fill_supply(m, sheet, base::SupplyId(asset.index));
        break;
    case AssetLayer::joints:
        sheet.id = m.text(m.layers().joints[asset.index].id);
        fill_joint(m, sheet, base::JointId(asset.index));
        break;
    case AssetLayer::ways:
        sheet.id = m.way_name(WayId(asset.index));
        fill_way(m, sheet, WayId(asset.index));
        break;
    case AssetLayer::cables:
    case AssetLayer::mains:
    case AssetLayer::terminations:
    case AssetLayer::loads:
    case AssetLayer::readings:
        throw base::ConfigError("a cable has no sheet: name a column, supply, joint or way; "
                                "explain tells of a cable.");
    }
    add_blanks(sheet);
    return sheet;
}

std::vector<report::Asset> columns_of_way(const Results& results, WayId way) {
    const std::set<ColumnId> found = all_of(results, way);
    std::vector<ColumnId> columns(found.begin(), found.end());
    sort_walking(results, columns);
    return as_assets(columns);
}

std::vector<report::Asset> round_of(const Results& results, std::string_view area) {
    std::vector<ColumnId> columns;
    for (std::size_t c = 0; c < results.layers().columns.size(); ++c) {
        const base::TextId own = results.layers().columns[c].area;
        if (own.is_valid() && results.layers().text.view(own) == area) {
            columns.emplace_back(c);
        }
    }
    if (columns.empty()) {
        throw base::ConfigError("no column has the area '" + std::string(area) + "'.");
    }
    sort_walking(results, columns);
    return as_assets(columns);
}

} // namespace loopwalk::sheet
