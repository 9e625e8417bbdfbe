#include "loopwalk/network/network.hpp"

#include "loopwalk/network/csr.hpp"

#include "terminations.hpp"
#include "ways.hpp"
#include <algorithm>
#include <unordered_map>
#include <utility>

namespace loopwalk::network {
namespace {

using base::NodeId;
using model::CableEndState;
using model::CutOutSide;
using model::SupplyKind;

bool is_source(const model::Supply& supply) noexcept {
    return supply.kind != SupplyKind::section_pillar;
}

/// Builds the vertices from the nodes, one concern a function; run() tells the order.
class Builder {
  public:
    Builder(const model::Layers& layers, Snapped snapped, base::FindingSink& findings)
        : m_layers(layers), m_findings(findings) {
        m_net.snapped = std::move(snapped);
    }

    Network run() {
        const Terminations ends(m_layers, m_net.snapped, m_findings);
        m_net.vertex_node.reserve(m_net.snapped.nodes.size());
        for (std::size_t n = 0; n < m_net.snapped.nodes.size(); ++n) {
            m_net.vertex_node.emplace_back(n); // vertex n stands for node n
        }
        make_ways();
        make_way_devices();
        make_joint_devices();
        make_cut_out_links(ends);
        attach_sections(ends);
        note_undrawn(ends);
        make_infeeds();
        freeze();
        return std::move(m_net);
    }

  private:
    VertexId add_vertex(NodeId node) {
        m_net.vertex_node.push_back(node);
        return VertexId(m_net.vertex_node.size() - 1);
    }

    static VertexId vertex_of(NodeId node) { return VertexId(node.index()); }

    DeviceId add_device(const Device& device) {
        m_net.devices.push_back(device);
        return DeviceId(m_net.devices.size() - 1);
    }

    void make_ways();
    void report_unused_rows(const std::vector<bool>& used);
    void make_way_devices();
    [[nodiscard]] DeviceId device_of(const Way& way, WayId id);
    void make_joint_devices();
    void make_cut_out_links(const Terminations& ends);
    void attach_sections(const Terminations& ends);
    [[nodiscard]] VertexId attach(std::size_t section, NodeId node, const Terminations& ends);
    [[nodiscard]] VertexId vertex_at_supply(base::CableId cable, NodeId node);
    void note_undrawn(const Terminations& ends);
    void make_infeeds();
    void freeze();

    const model::Layers& m_layers;
    base::FindingSink& m_findings;
    Network m_net;
    std::vector<std::vector<CableAtSupply>> m_cables_at; ///< per supply
};

void Builder::make_ways() {
    m_cables_at.resize(m_layers.supplies.size());
    const auto note = [&](NodeId node, base::CableId cable) {
        const Node& n = m_net.snapped.nodes[node.index()];
        if (n.kind == NodeKind::supply && model::conducts(m_layers.cables[cable.index()].status)) {
            auto& list = m_cables_at[n.asset];
            if (list.empty() || list.back().cable != cable) {
                list.push_back({cable, {}});
            }
        }
    };
    for (const Section& section : m_net.snapped.sections) { // ordered by cable
        note(section.from, section.cable);
        note(section.to, section.cable);
    }
    std::unordered_map<TextId, std::vector<WayRowId>> rows;
    for (std::size_t r = 0; r < m_layers.ways.size(); ++r) {
        rows[m_layers.ways[r].supply_id].push_back(WayRowId(r));
    }
    std::vector<bool> used(m_layers.ways.size(), false);
    for (std::size_t s = 0; s < m_layers.supplies.size(); ++s) {
        const auto of_supply = rows.find(m_layers.supplies[s].id);
        const std::vector<WayRowId> none;
        group_into_ways(m_layers, SupplyId(s), of_supply == rows.end() ? none : of_supply->second,
                        m_cables_at[s], m_net.ways, used);
    }
    report_unused_rows(used);
}

void Builder::report_unused_rows(const std::vector<bool>& used) {
    std::unordered_map<TextId, std::size_t> supplies;
    for (std::size_t s = 0; s < m_layers.supplies.size(); ++s) {
        supplies.emplace(m_layers.supplies[s].id, s);
    }
    for (std::size_t r = 0; r < m_layers.ways.size(); ++r) {
        if (used[r]) {
            continue;
        }
        const model::WayRow& row = m_layers.ways[r];
        const auto supply = supplies.find(row.supply_id);
        base::Finding finding;
        finding.rule = base::Rule::way_without_cable;
        finding.severity = base::Severity::note;
        finding.layer = base::AssetLayer::supplies;
        finding.asset_id = m_layers.id_text(row.supply_id);
        finding.supply_id = finding.asset_id;
        finding.way = m_layers.id_text(row.way);
        if (supply == supplies.end()) {
            finding.message = "Way " + finding.way + " is recorded at supply " + finding.asset_id +
                              ", which is not among the supplies.";
        } else {
            const model::Supply& at = m_layers.supplies[supply->second];
            finding.place = at.has_place ? std::optional(at.place) : std::nullopt;
            finding.message =
                "No cable uses way " + finding.way + " of supply " + finding.asset_id + ".";
        }
        finding.fix = "Check the circuit label of the row and of the cables at the supply.";
        m_findings.add(std::move(finding));
    }
}

/// The row's fuse, or behind an isolator and without a row the supply's own; at a service or
/// substation that one is the distributor's.
DeviceId Builder::device_of(const Way& way, WayId id) {
    const model::Supply& supply = m_layers.supplies[way.supply.index()];
    const auto owner = static_cast<std::uint32_t>(id.index());
    base::Maybe<base::Second> limit;
    if (way.row.is_valid()) {
        const model::WayRow& row = m_layers.ways[way.row.index()];
        limit = row.limit;
        if (row.fuse.word != model::FuseRecord::Word::none) {
            return add_device({DeviceKind::way, owner, row.fuse, limit});
        }
    }
    if (model::is_distributors(supply.kind)) {
        return add_device({DeviceKind::distributor, owner, supply.fuse, limit});
    }
    const bool protected_further_up = supply.fuse.is_absent() && !is_source(supply);
    if (protected_further_up || supply.fuse.word == model::FuseRecord::Word::none) {
        return {};
    }
    return add_device({DeviceKind::way, owner, supply.fuse, limit});
}

void Builder::make_way_devices() {
    for (std::size_t w = 0; w < m_net.ways.size(); ++w) {
        Way& way = m_net.ways[w];
        way.device = device_of(way, WayId(w));
        const NodeId node = m_net.snapped.supply_node[way.supply.index()];
        way.vertex = add_vertex(node);
        const model::Supply& supply = m_layers.supplies[way.supply.index()];
        if (!is_source(supply) && model::conducts(supply.status)) {
            m_net.links.push_back(
                {LinkKind::busbar, vertex_of(node), way.vertex, WayId(w), way.device});
        }
    }
}

void Builder::make_joint_devices() {
    m_net.joint_device.resize(m_layers.joints.size());
    for (std::size_t j = 0; j < m_layers.joints.size(); ++j) {
        const model::Joint& joint = m_layers.joints[j];
        if (joint.kind == model::JointKind::fused &&
            joint.fuse.word != model::FuseRecord::Word::none) {
            m_net.joint_device[j] =
                add_device({DeviceKind::joint, static_cast<std::uint32_t>(j), joint.fuse, {}});
        }
    }
}

void Builder::make_cut_out_links(const Terminations& ends) {
    for (std::size_t c = 0; c < m_layers.columns.size(); ++c) {
        const NodeId node = m_net.snapped.column_node[c];
        if (!node.is_valid() || !ends.has_fused_side(node)) {
            continue;
        }
        m_net.fused_side.resize(m_layers.columns.size());
        m_net.fused_side[c] = add_vertex(node);
        const model::Column& column = m_layers.columns[c];
        DeviceId device;
        if (column.fuse.word != model::FuseRecord::Word::none) {
            device = add_device(
                {DeviceKind::cut_out, static_cast<std::uint32_t>(c), column.fuse, column.limit});
        }
        m_net.links.push_back(
            {LinkKind::cut_out, vertex_of(node), m_net.fused_side[c], WayId{}, device});
    }
}

VertexId Builder::vertex_at_supply(base::CableId cable, NodeId node) {
    const Node& n = m_net.snapped.nodes[node.index()];
    if (!model::conducts(m_layers.supplies[n.asset].status)) {
        return add_vertex(node);
    }
    const auto& list = m_cables_at[n.asset];
    const auto found = std::ranges::lower_bound(list, cable, {}, &CableAtSupply::cable);
    return m_net.ways[found->way.index()].vertex;
}

VertexId Builder::attach(std::size_t section, NodeId node, const Terminations& ends) {
    const base::CableId cable = m_net.snapped.sections[section].cable;
    const Node& n = m_net.snapped.nodes[node.index()];
    const CableEnd end = ends.at(cable, node);
    EarthEnds& earth = m_net.earth_ends[section];
    earth.broken = earth.broken || end.earth == model::EarthBond::not_bonded;
    earth.unknown = earth.unknown || end.earth == model::EarthBond::unknown;
    if (end.state == CableEndState::open) {
        return add_vertex(node);
    }
    if (n.kind == NodeKind::supply) {
        return vertex_at_supply(cable, node);
    }
    if (n.kind == NodeKind::column) {
        if (!model::conducts(m_layers.columns[n.asset].status)) {
            return add_vertex(node);
        }
        if (end.side == CutOutSide::fused) {
            return m_net.fused_side[n.asset];
        }
        if (end.side == CutOutSide::unknown) {
            m_net.side_unknown[section] = 1;
        }
    }
    return vertex_of(node);
}

void Builder::attach_sections(const Terminations& ends) {
    const std::size_t count = m_net.snapped.sections.size();
    m_net.section_from.resize(count);
    m_net.section_to.resize(count);
    m_net.earth_ends.resize(count);
    m_net.side_unknown.resize(count);
    for (std::size_t s = 0; s < count; ++s) {
        const Section& section = m_net.snapped.sections[s];
        if (model::conducts(m_layers.cables[section.cable.index()].status)) {
            m_net.section_from[s] = attach(s, section.from, ends);
            m_net.section_to[s] = attach(s, section.to, ends);
        }
    }
}

void Builder::note_undrawn(const Terminations& ends) {
    for (const CableEnd& end : ends.all()) {
        const auto sections = std::span(m_net.snapped.sections)
                                  .subspan(m_net.snapped.first_section[end.cable.index()])
                                  .first(m_net.snapped.first_section[end.cable.index() + 1] -
                                         m_net.snapped.first_section[end.cable.index()]);
        const bool is_drawn = std::ranges::any_of(sections, [&](const Section& section) {
            return section.from == end.node || section.to == end.node;
        });
        if (!is_drawn) {
            m_net.undrawn_ends.push_back({end.node, end.cable, end.state == CableEndState::open});
        }
    }
    std::ranges::sort(m_net.undrawn_ends, {},
                      [](const UndrawnEnd& end) { return std::pair(end.node, end.cable); });
}

void Builder::make_infeeds() {
    for (std::size_t w = 0; w < m_net.ways.size(); ++w) {
        const model::Supply& supply = m_layers.supplies[m_net.ways[w].supply.index()];
        if (is_source(supply) && model::conducts(supply.status)) {
            m_net.infeeds.push_back({m_net.ways[w].vertex, WayId(w)});
        }
    }
    for (const MainTap& tap : m_net.snapped.main_taps) {
        m_net.infeeds.push_back({vertex_of(tap.node), tap.main});
    }
}

void Builder::freeze() {
    using Pair = std::pair<std::uint32_t, std::uint32_t>;
    std::vector<Pair> arcs;
    std::vector<EdgeIndex> index;
    arcs.reserve(2 * m_net.edge_count());
    index.reserve(2 * m_net.edge_count());
    const auto add = [&](VertexId a, VertexId b, std::size_t edge) {
        const auto from = static_cast<std::uint32_t>(a.index());
        const auto to = static_cast<std::uint32_t>(b.index());
        arcs.emplace_back(from, to);
        arcs.emplace_back(to, from);
        index.insert(index.end(), 2, EdgeIndex{static_cast<std::uint32_t>(edge)});
    };
    const std::size_t sections = m_net.snapped.sections.size();
    for (std::size_t s = 0; s < sections; ++s) {
        if (m_net.section_from[s].is_valid()) {
            add(m_net.section_from[s], m_net.section_to[s], s);
        }
    }
    for (std::size_t l = 0; l < m_net.links.size(); ++l) {
        add(m_net.links[l].a, m_net.links[l].b, sections + l);
    }
    auto holder = std::make_shared<CsrHolder>();
    holder->csr = Csr(boost::edges_are_unsorted_multi_pass, arcs.begin(), arcs.end(), index.begin(),
                      static_cast<std::uint32_t>(m_net.vertex_node.size()));
    m_net.graph = std::move(holder);
}

} // namespace

std::optional<WayId> Network::way_of(InfeedId id) const {
    const WayId* way = std::get_if<WayId>(&infeeds[id.index()].from);
    return way != nullptr ? std::optional(*way) : std::nullopt;
}

std::optional<MainId> Network::main_of(InfeedId id) const {
    const MainId* main = std::get_if<MainId>(&infeeds[id.index()].from);
    return main != nullptr ? std::optional(*main) : std::nullopt;
}

std::optional<SupplyId> Network::supply_of(InfeedId id) const {
    const std::optional<WayId> way = way_of(id);
    return way.has_value() ? std::optional(ways[way->index()].supply) : std::nullopt;
}

Origin Network::origin_of(InfeedId id) const {
    const std::optional<SupplyId> supply = supply_of(id);
    return supply.has_value() ? Origin(*supply)
                              : Origin(std::get<MainId>(infeeds[id.index()].from));
}

DeviceId Network::device_of(InfeedId id) const {
    const std::optional<WayId> way = way_of(id);
    return way.has_value() ? ways[way->index()].device : DeviceId{};
}

std::optional<WayRowId> Network::row_of(InfeedId id) const {
    const std::optional<WayId> way = way_of(id);
    const bool has_row = way.has_value() && ways[way->index()].row.is_valid();
    return has_row ? std::optional(ways[way->index()].row) : std::nullopt;
}

Network build_network(const model::Layers& layers, Snapped snapped, base::FindingSink& findings) {
    return Builder(layers, std::move(snapped), findings).run();
}

} // namespace loopwalk::network
