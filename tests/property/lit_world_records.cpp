// The records of a world, as input would hand them on.
#include "lit_world.hpp"
#include "support/build_layers.hpp"
#include <set>

namespace loopwalk::test {
namespace {

constexpr double kMainAt = -20.0;

base::Point2 place(const World& world, int node) {
    const World::Node& at = world.nodes[static_cast<std::size_t>(node)];
    return {at.x, at.y};
}

void add_sites(const World& world, LayersBuilder& builder) {
    for (const World::Node& node : world.nodes) {
        switch (node.site) {
        case Site::pillar:
        case Site::section_pillar: {
            model::Supply& supply = builder.add_supply(node.id, node.x, node.y);
            supply.kind = node.site == Site::pillar ? model::SupplyKind::pillar
                                                    : model::SupplyKind::section_pillar;
            supply.phases = base::Number(world.is_three_phase ? 3.0 : 1.0);
            break;
        }
        case Site::column: {
            model::Column& column = builder.add_column(node.id, node.x, node.y);
            column.phase =
                node.tells_phase ? static_cast<model::Phase>(node.phase) : model::Phase::unknown;
            column.control = node.tells_control ? node.control : model::Control::unknown;
            column.feed = node.on_main ? model::StatedFeed::main : model::StatedFeed::none;
            column.owner = model::Owner::council;
            break;
        }
        case Site::joint:
            builder.add_joint(node.id, node.x, node.y);
            break;
        case Site::fused_joint:
            builder.add_joint(node.id, node.x, node.y).kind = model::JointKind::fused;
            break;
        case Site::bare:
        case Site::tap:
            break;
        }
    }
}

void add_ways(const World& world, model::Layers& layers) {
    std::set<std::pair<int, std::string>> rows;
    for (const World::Cable& cable : world.cables) {
        for (const int end : {cable.a, cable.b}) {
            if (world.is_supply(end) && rows.emplace(end, cable.label).second) {
                model::WayRow row{};
                row.supply_id = layers.text.add(world.nodes[static_cast<std::size_t>(end)].id);
                row.way = row.circuit = layers.text.add(cable.label);
                row.control = world.is_group_switched ? model::Control::group_switched
                                                      : model::Control::unknown;
                layers.ways.push_back(row);
            }
        }
    }
}

base::AssetLayer layer_of(const World::Node& node) {
    return node.site == Site::column ? base::AssetLayer::columns
           : node.site == Site::joint || node.site == Site::fused_joint
               ? base::AssetLayer::joints
               : base::AssetLayer::supplies;
}

} // namespace

model::Layers records_of(const World& world) {
    LayersBuilder builder;
    add_sites(world, builder);
    std::vector<model::Termination> terminations;
    double right = 0.0;
    for (std::size_t c = 0; c < world.cables.size(); ++c) {
        const World::Cable& cable = world.cables[c];
        const std::string id = "K" + std::to_string(100 + c);
        builder.add_cable(id, {place(world, cable.a), place(world, cable.b)}, cable.label).status =
            cable.conducts ? model::Status::in_service : model::Status::removed;
        const int end = cable.open_at >= 0 ? cable.open_at : cable.fused_at;
        if (end >= 0) {
            const World::Node& node = world.nodes[static_cast<std::size_t>(end)];
            model::Termination row{};
            row.asset_id = builder.text(node.id);
            row.cable_id = builder.text(id);
            row.has_layer = true;
            row.asset_layer = layer_of(node);
            row.state =
                cable.open_at >= 0 ? model::CableEndState::open : model::CableEndState::connected;
            row.side = cable.fused_at < 0 ? model::CutOutSide::loop
                       : cable.tells_side ? model::CutOutSide::fused
                                          : model::CutOutSide::unknown;
            terminations.push_back(row);
        }
    }
    for (const World::Node& node : world.nodes) {
        right = std::max(right, node.x);
    }
    builder.add_main("M", {{-20.0, kMainAt}, {right + 20.0, kMainAt}});
    model::Layers layers = builder.finish();
    layers.terminations = std::move(terminations);
    add_ways(world, layers);
    return layers;
}

} // namespace loopwalk::test
