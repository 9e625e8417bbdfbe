#include "lit_street.hpp"

#include <gtest/gtest.h>

#include <stdexcept>

namespace loopwalk::outage {
namespace {

template <class Assets>
std::uint32_t index_of(const model::Layers& layers, const Assets& assets, const std::string& id) {
    for (std::size_t i = 0; i < assets.size(); ++i) {
        if (layers.text.view(assets[i].id) == id) {
            return static_cast<std::uint32_t>(i);
        }
    }
    throw std::logic_error("no asset " + id);
}

} // namespace

/// Where conducting cables end at a place: what is out of service meets at a node of its own there.
std::uint32_t Street::node_at(int node) const {
    const World::Node& at = world.nodes[static_cast<std::size_t>(node)];
    for (std::size_t s = 0; s < network.section_from.size(); ++s) {
        for (const base::VertexId v : {network.section_from[s], network.section_to[s]}) {
            if (v.is_valid() && network.snapped.nodes[network.node_of(v).index()].place ==
                                    base::Point2{at.x, at.y}) {
                return static_cast<std::uint32_t>(network.node_of(v).index());
            }
        }
    }
    throw std::logic_error("no node at " + at.id);
}

std::uint32_t Street::cable_index(int cable) const {
    const std::uint32_t index = index_of(layers, layers.cables, "K" + std::to_string(100 + cable));
    const std::uint32_t first = network.snapped.first_section[index];
    EXPECT_EQ(network.snapped.first_section[index + 1], first + 1) << "a cable was cut";
    return first;
}

Loss Street::loss_of(const Fault& fault) const {
    const std::string id = fault.part == Part::cable || fault.part == Part::main
                               ? ""
                               : world.nodes[static_cast<std::size_t>(fault.at)].id;
    Loss loss;
    loss.scope = static_cast<Scope>(fault.of);
    const auto set = [&](PlaceKind kind, std::uint32_t index) { loss.place = {kind, index}; };
    switch (fault.part) {
    case Part::cable:
        set(PlaceKind::section, cable_index(fault.at));
        break;
    case Part::terminals:
        set(PlaceKind::terminals, index_of(layers, layers.columns, id));
        break;
    case Part::lamp:
        set(PlaceKind::lamp, index_of(layers, layers.columns, id));
        break;
    case Part::cut_out: // one that feeds nothing else counts with its lamp
        set(feeds_on(fault.at) ? PlaceKind::cut_out : PlaceKind::lamp,
            index_of(layers, layers.columns, id));
        break;
    case Part::joint: {
        const std::uint32_t joint = index_of(layers, layers.joints, id);
        set(layers.joints[joint].kind == model::JointKind::fused ? PlaceKind::fused_joint
                                                                 : PlaceKind::joint,
            joint);
        break;
    }
    case Part::meeting:
        set(PlaceKind::meeting, node_at(fault.at));
        break;
    case Part::busbar:
        set(PlaceKind::busbar, index_of(layers, layers.supplies, id));
        break;
    case Part::pillar:
        set(PlaceKind::supply, index_of(layers, layers.supplies, id));
        break;
    case Part::way: {
        const std::uint32_t supply = index_of(layers, layers.supplies, id);
        for (std::size_t w = 0; w < network.ways.size(); ++w) {
            if (network.ways[w].supply.index() == supply &&
                layers.text.view(network.ways[w].name) == fault.label) {
                set(PlaceKind::way, static_cast<std::uint32_t>(w));
            }
        }
        break;
    }
    case Part::tap:
        if (world.nodes[static_cast<std::size_t>(fault.at)].on_main) {
            set(PlaceKind::service, index_of(layers, layers.columns, id));
            break;
        }
        for (std::size_t r = 0; r < network.infeeds.size(); ++r) {
            if (network.node_of(network.infeeds[r].vertex).index() == node_at(fault.at)) {
                set(PlaceKind::tap, static_cast<std::uint32_t>(r));
            }
        }
        break;
    case Part::main:
        set(PlaceKind::main, 0);
        break;
    case Part::unrecorded:
        set(PlaceKind::unrecorded, index_of(layers, layers.columns, id));
        break;
    }
    EXPECT_NE(loss.place.kind, PlaceKind::passed) << test::text_of(world, fault);
    return loss;
}

} // namespace loopwalk::outage
