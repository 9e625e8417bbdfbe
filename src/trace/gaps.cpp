#include "loopwalk/base/error.hpp"
#include "loopwalk/trace/trace.hpp"

#include <algorithm>
#include <string>
#include <tuple>

namespace loopwalk::trace {
namespace {

using network::NodeKind;

/// One side of a gap: whether it has a source, and how many columns wait for one.
struct Side {
    bool is_fed = false;
    std::uint32_t columns = 0;
};

bool is_conducting_source(const model::Layers& layers, const network::Node& node) {
    if (node.kind != NodeKind::supply) {
        return false;
    }
    const model::Supply& supply = layers.supplies[node.asset];
    return supply.kind != model::SupplyKind::section_pillar && model::conducts(supply.status);
}

Side side_of(const model::Layers& layers, const network::Network& net, const Trace& trace,
             base::NodeId id) {
    const network::Node& node = net.snapped.nodes[id.index()];
    if (is_conducting_source(layers, node)) {
        return {true, 0};
    }
    const Component* component = trace.find(VertexId(id.index()));
    if (component == nullptr) {
        return {false, node.kind == NodeKind::column ? 1U : 0U};
    }
    return {component->infeed_count > 0, component->columns};
}

Side side_of_middle(const network::Network& net, const Trace& trace, const network::Gap& gap) {
    const auto first = net.snapped.first_section[gap.to_cable.index()];
    const auto last = net.snapped.first_section[gap.to_cable.index() + 1];
    for (std::uint32_t s = first; s < last; ++s) {
        const network::Section& section = net.snapped.sections[s];
        if (section.part == gap.to_part && section.to_measure >= gap.to_measure &&
            net.section_from[s].is_valid()) {
            const Component* component = trace.find(net.section_from[s]);
            LW_ASSERT(component != nullptr);
            return {component->infeed_count > 0, component->columns};
        }
    }
    return {};
}

std::string to_name(const model::Layers& layers, const network::Network& net,
                    const network::Gap& gap) {
    return gap.to.is_valid() ? node_name(layers, net.snapped.nodes[gap.to.index()])
                             : layers.id_text(layers.cables[gap.to_cable.index()].id);
}

} // namespace

std::vector<RankedGap> rank_gaps(const model::Layers& layers, const network::Network& network,
                                 const Trace& trace) {
    const auto& gaps = network.snapped.gaps;
    std::vector<std::tuple<std::uint32_t, double, std::string, std::string, std::uint32_t>> keys;
    for (std::uint32_t g = 0; g < gaps.size(); ++g) {
        const Side from = side_of(layers, network, trace, gaps[g].from);
        const Side to = gaps[g].to.is_valid() ? side_of(layers, network, trace, gaps[g].to)
                                              : side_of_middle(network, trace, gaps[g]);
        const std::uint32_t feeds =
            from.is_fed == to.is_fed ? 0 : (from.is_fed ? to.columns : from.columns);
        keys.emplace_back(~feeds, gaps[g].distance_m,
                          node_name(layers, network.snapped.nodes[gaps[g].from.index()]),
                          to_name(layers, network, gaps[g]), g);
    }
    std::ranges::sort(keys);
    std::vector<RankedGap> ranked;
    ranked.reserve(keys.size());
    for (const auto& key : keys) {
        ranked.push_back({std::get<4>(key), ~std::get<0>(key)});
    }
    return ranked;
}

} // namespace loopwalk::trace
