#include "supply_graph.hpp"

#include "near_mains.hpp"
#include <algorithm>
#include <map>
#include <set>
#include <unordered_map>

namespace loopwalk::outage {
namespace {

using base::ComponentId;
using base::InfeedId;
using base::MainId;
using base::SupplyId;
using base::VertexId;
using network::NodeKind;
using trace::Component;

std::uint32_t index_of(auto id) {
    return static_cast<std::uint32_t>(id.index());
}

/// What an infeed hangs on, from the outside in; invalid where there is no such thing on record.
struct Above {
    SupplyId substation;
    MainId main;
    SupplyId supply;
};

Above above(const Inputs& in, InfeedId infeed) {
    const figures::OnMain on = in.figures.main_of(in.network, infeed);
    const auto main = in.network.main_of(infeed);
    return {on.substation, main.value_or(on.main),
            in.network.supply_of(infeed).value_or(SupplyId{})};
}

/// The components of the named columns, and those that hang on the same supplies, mains and
/// substations as the columns that are out.
class Chooser {
  public:
    explicit Chooser(const Inputs& in) : m_in(in) {}

    std::vector<ComponentId> choose(const Seen& seen) {
        m_mains = near_mains_of_named(m_in, seen);
        for (const ColumnId id : seen.lit) {
            note(id);
        }
        for (const ColumnId id : seen.out) {
            if (const Component* component = note(id); component != nullptr) {
                note_sources(*component);
            }
        }
        for (std::size_t r = 0; r < m_in.network.infeeds.size(); ++r) {
            const Above it = above(m_in, InfeedId(r));
            if (m_substations.contains(it.substation) || m_mains.contains(it.main) ||
                m_supplies.contains(it.supply)) {
                m_chosen.insert(m_in.trace.component_of[m_in.network.infeeds[r].vertex.index()]);
            }
        }
        return {m_chosen.begin(), m_chosen.end()};
    }
    [[nodiscard]] const std::set<MainId>& mains() const noexcept { return m_mains; }

  private:
    const Component* note(ColumnId id) {
        const VertexId v = trace::column_vertex(m_in.network, m_in.trace, id);
        const Component* component = v.is_valid() ? m_in.trace.find(v) : nullptr;
        if (component != nullptr) {
            m_chosen.insert(m_in.trace.id_of(*component));
        }
        return component;
    }

    void note_sources(const Component& component) {
        const auto insert = [](auto& into, auto id) {
            if (id.is_valid()) {
                into.insert(id);
            }
        };
        for (const InfeedId infeed : m_in.trace.infeeds_of(component)) {
            const Above it = above(m_in, infeed);
            insert(m_substations, it.substation);
            insert(m_mains, it.main);
            insert(m_supplies, it.supply);
        }
    }

    const Inputs& m_in;
    std::set<SupplyId> m_substations, m_supplies;
    std::set<MainId> m_mains;
    std::set<ComponentId> m_chosen;
};

class Builder {
  public:
    Builder(const Inputs& in, const Seen& seen) : m_in(in), m_seen(seen) {}

    SupplyGraph run() {
        add({}); // kSource
        Chooser chooser(m_in);
        m_graph.chosen = chooser.choose(m_seen);
        for (const ComponentId id : m_graph.chosen) {
            add_vertices(m_in.trace.components[id.index()]);
        }
        add_sections();
        add_links();
        for (const ComponentId id : m_graph.chosen) {
            add_sources(m_in.trace.components[id.index()]);
            add_lamps(m_in.trace.components[id.index()]);
        }
        for (const auto& [column, main] : columns_by_near_main(m_in, chooser.mains())) {
            add_service(column, main);
        }
        add_alone();
        return finish();
    }

  private:
    PlaceNode add(Place place) {
        m_graph.places.push_back(place);
        return static_cast<PlaceNode>(m_graph.places.size() - 1);
    }
    PlaceNode add_below(PlaceNode upper, PlaceKind kind, std::uint32_t index) {
        const PlaceNode node = add({kind, index});
        join(upper, node);
        return node;
    }
    void join(PlaceNode a, PlaceNode b) {
        m_joined.emplace_back(a, b);
        m_joined.emplace_back(b, a);
    }
    [[nodiscard]] bool is_chosen(VertexId v) const { return m_nodes.contains(v); }

    void add_vertices(const Component& component) {
        for (const VertexId v : m_in.trace.vertices(component)) {
            m_nodes.emplace(v, add(place_of(v)));
        }
    }
    [[nodiscard]] Place place_of(VertexId v) const;
    void add_sections();
    void add_links();
    void add_sources(const Component& component);
    PlaceNode main_node(MainId main, SupplyId substation);
    PlaceNode supply_node(const Above& above);
    void add_lamps(const Component& component);
    void add_lamp(ColumnId column, PlaceNode upper) {
        m_lamps.emplace(column, add_below(upper, PlaceKind::lamp, index_of(column)));
    }
    void add_service(ColumnId column, MainId main) {
        m_graph.by_near_main.push_back(column);
        const PlaceNode upper = main_node(main, {});
        add_lamp(column, add_below(upper, PlaceKind::service, index_of(column)));
    }
    void add_alone();
    SupplyGraph finish();

    const Inputs& m_in;
    const Seen& m_seen;
    SupplyGraph m_graph;
    std::vector<std::pair<PlaceNode, PlaceNode>> m_joined;
    std::unordered_map<VertexId, PlaceNode> m_nodes;
    std::map<SupplyId, PlaceNode> m_supplies, m_substations;
    std::map<MainId, PlaceNode> m_mains;
    std::map<ColumnId, PlaceNode> m_lamps;
    std::vector<PlaceNode> m_unfed; ///< where nobody knows what lies before what
};

/// Only the vertex that stands for an asset itself is a place to look at: others are open ends, the
/// terminals behind a fuse.
Place Builder::place_of(VertexId v) const {
    const base::NodeId id = m_in.network.node_of(v);
    const network::Node& node = m_in.network.snapped.nodes[id.index()];
    if (v.index() != id.index()) {
        return {};
    }
    switch (node.kind) {
    case NodeKind::column:
        return {PlaceKind::terminals, node.asset};
    case NodeKind::joint:
        return {m_in.network.joint_device[node.asset].is_valid() ? PlaceKind::fused_joint
                                                                 : PlaceKind::joint,
                node.asset};
    case NodeKind::supply:
        return {PlaceKind::busbar, node.asset};
    case NodeKind::derived:
        return {PlaceKind::meeting, index_of(id)};
    }
    return {};
}

void Builder::add_sections() {
    const network::Network& net = m_in.network;
    for (std::size_t s = 0; s < net.section_from.size(); ++s) {
        if (net.section_from[s].is_valid() && is_chosen(net.section_from[s])) {
            const PlaceNode node = add_below(m_nodes.at(net.section_from[s]), PlaceKind::section,
                                             static_cast<std::uint32_t>(s));
            join(node, m_nodes.at(net.section_to[s]));
        }
    }
}

void Builder::add_links() {
    for (const network::Link& link : m_in.network.links) {
        if (!is_chosen(link.a)) {
            continue;
        }
        const base::NodeId at = m_in.network.node_of(link.a);
        const Place place =
            link.kind == network::LinkKind::busbar
                ? Place{PlaceKind::way, index_of(link.way)}
                : Place{PlaceKind::cut_out, m_in.network.snapped.nodes[at.index()].asset};
        const PlaceNode node = add_below(m_nodes.at(link.a), place.kind, place.index);
        join(node, m_nodes.at(link.b));
    }
}

/// Where no source is on record it may come in anywhere: then no cable is more suspect than
/// another.
void Builder::add_sources(const Component& component) {
    for (const InfeedId infeed : m_in.trace.infeeds_of(component)) {
        const Above it = above(m_in, infeed);
        const auto way = m_in.network.way_of(infeed);
        const PlaceNode upper =
            way.has_value() ? supply_node(it) : main_node(it.main, it.substation);
        const PlaceNode node = way.has_value() ? add_below(upper, PlaceKind::way, index_of(*way))
                                               : add_below(upper, PlaceKind::tap, index_of(infeed));
        join(node, m_nodes.at(m_in.network.vertex_of(infeed)));
    }
    if (component.infeed_count > 0) {
        return;
    }
    std::uint32_t first_column = kNoPlace;
    for (const VertexId v : m_in.trace.vertices(component)) {
        const Place place = m_graph.places[m_nodes.at(v)];
        first_column =
            place.kind == PlaceKind::terminals ? std::min(first_column, place.index) : first_column;
    }
    const PlaceNode source = add_below(kSource, PlaceKind::unrecorded, first_column);
    for (const VertexId v : m_in.trace.vertices(component)) {
        join(source, m_nodes.at(v));
        m_unfed.push_back(m_nodes.at(v));
    }
}

PlaceNode Builder::main_node(MainId main, SupplyId substation) {
    if (const auto known = m_mains.find(main); known != m_mains.end()) {
        return known->second;
    }
    PlaceNode upper = kSource;
    if (substation.is_valid()) {
        const auto known = m_substations.find(substation);
        upper = known != m_substations.end()
                    ? known->second
                    : add_below(kSource, PlaceKind::substation, index_of(substation));
        m_substations.emplace(substation, upper);
    }
    return m_mains.emplace(main, add_below(upper, PlaceKind::main, index_of(main))).first->second;
}

PlaceNode Builder::supply_node(const Above& it) {
    if (const auto known = m_supplies.find(it.supply); known != m_supplies.end()) {
        return known->second;
    }
    const PlaceNode upper = it.main.is_valid() ? main_node(it.main, it.substation) : kSource;
    return m_supplies.emplace(it.supply, add_below(upper, PlaceKind::supply, index_of(it.supply)))
        .first->second;
}

/// A lamp hangs behind its own fuse, which further cables may share.
void Builder::add_lamps(const Component& component) {
    for (const VertexId v : m_in.trace.vertices(component)) {
        const Place place = m_graph.places[m_nodes.at(v)];
        if (place.kind != PlaceKind::terminals) {
            continue;
        }
        const auto& fused = m_in.network.fused_side;
        const VertexId side = fused.empty() ? VertexId{} : fused[place.index];
        add_lamp(ColumnId(place.index), m_nodes.at(side.is_valid() ? side : v));
    }
}

/// Named columns that nothing on record reaches.
void Builder::add_alone() {
    for (const auto* columns : {&m_seen.out, &m_seen.lit}) {
        for (const ColumnId id : *columns) {
            if (!m_lamps.contains(id)) {
                add_lamp(id, add_below(kSource, PlaceKind::unrecorded, index_of(id)));
            }
        }
    }
}

SupplyGraph Builder::finish() {
    std::ranges::sort(m_joined);
    m_graph.first.resize(m_graph.size() + 1);
    for (const auto& [from, to] : m_joined) {
        ++m_graph.first[from + 1];
        m_graph.neighbours.push_back(to);
    }
    for (std::size_t n = 1; n < m_graph.first.size(); ++n) {
        m_graph.first[n] += m_graph.first[n - 1];
    }
    for (const PlaceNode n : m_unfed) {
        m_graph.places[n] = {};
    }
    for (PlaceNode n = 0; n < m_graph.size(); ++n) { // one cable's end is no place of its own
        const auto cables = std::ranges::count_if(m_graph.next_to(n), [this](PlaceNode other) {
            return m_graph.places[other].kind == PlaceKind::section;
        });
        if (m_graph.places[n].kind == PlaceKind::meeting && cables < 2) {
            m_graph.places[n] = {};
        }
    }
    for (const auto& [column, lamp] : m_lamps) {
        m_graph.columns.push_back(column);
        m_graph.lamps.push_back(lamp);
    }
    return std::move(m_graph);
}

} // namespace

SupplyGraph make_supply_graph(const Inputs& inputs, const Seen& seen) {
    return Builder(inputs, seen).run();
}

} // namespace loopwalk::outage
