#include "terminations.hpp"

#include <algorithm>
#include <unordered_map>

namespace loopwalk::network {
namespace {

using base::AssetLayer;
using base::NodeId;
using base::TextId;

/// Ids of a layer, to be looked up by text; ids are unique within a layer.
using IdMap = std::unordered_map<TextId, std::size_t>;

template <class Rows>
IdMap ids_of(const Rows& rows) {
    IdMap map;
    map.reserve(rows.size());
    for (std::size_t i = 0; i < rows.size(); ++i) {
        map.emplace(rows[i].id, i);
    }
    return map;
}

/// Finds the node of an asset by id, in the recorded layer or, if none is recorded, in the first
/// of columns, supplies and joints that has the id.
class AssetNodes {
  public:
    AssetNodes(const model::Layers& layers, const Snapped& snapped)
        : m_columns(ids_of(layers.columns)), m_supplies(ids_of(layers.supplies)),
          m_joints(ids_of(layers.joints)), m_snapped(snapped) {}

    [[nodiscard]] NodeId find(const model::Termination& row) const {
        if (const NodeId n = find_in(row, AssetLayer::columns, m_columns, m_snapped.column_node);
            n.is_valid()) {
            return n;
        }
        if (const NodeId n = find_in(row, AssetLayer::supplies, m_supplies, m_snapped.supply_node);
            n.is_valid()) {
            return n;
        }
        return find_in(row, AssetLayer::joints, m_joints, m_snapped.joint_node);
    }

  private:
    static NodeId find_in(const model::Termination& row, AssetLayer layer, const IdMap& ids,
                          const std::vector<NodeId>& nodes) {
        if (row.has_layer && row.asset_layer != layer) {
            return {};
        }
        const auto found = ids.find(row.asset_id);
        return found == ids.end() ? NodeId{} : nodes[found->second];
    }

    IdMap m_columns, m_supplies, m_joints;
    const Snapped& m_snapped;
};

base::Finding nameless(const model::Layers& layers, const model::Termination& row) {
    base::Finding finding;
    finding.rule = base::Rule::bad_value;
    finding.severity = base::Severity::warning;
    finding.layer = AssetLayer::terminations;
    finding.asset_id = layers.id_text(row.asset_id);
    finding.message = "A termination names asset '" + layers.id_text(row.asset_id) +
                      "' and cable '" + layers.id_text(row.cable_id) +
                      "', but the records do not hold both with a place: the row has no effect.";
    finding.fix = "Correct asset_id, asset_layer or cable_id of this row.";
    return finding;
}

base::Finding contradicting(const model::Layers& layers, const Snapped& snapped,
                            const CableEnd& end) {
    const Node& node = snapped.nodes[end.node.index()];
    base::Finding finding;
    finding.rule = base::Rule::bad_value;
    finding.severity = base::Severity::warning;
    finding.layer = AssetLayer::terminations;
    finding.asset_id = node_name(layers, node);
    finding.place = node.place;
    finding.message = "Several terminations of cable '" +
                      layers.id_text(layers.cables[end.cable.index()].id) + "' at asset '" +
                      finding.asset_id +
                      "' contradict each other: the least favourable of each field is used.";
    finding.fix = "Keep one row for this end of the cable.";
    return finding;
}

/// A path is as weak as the worst that is said of it: not bonded, then unknown.
model::EarthBond worse(model::EarthBond a, model::EarthBond b) {
    const auto is_either = [&](model::EarthBond bond) { return a == bond || b == bond; };
    return is_either(model::EarthBond::not_bonded) ? model::EarthBond::not_bonded
           : is_either(model::EarthBond::unknown)  ? model::EarthBond::unknown
                                                   : model::EarthBond::bonded;
}

bool by_end(const CableEnd& a, const CableEnd& b) noexcept {
    return std::tie(a.cable, a.node) < std::tie(b.cable, b.node);
}

} // namespace

Terminations::Terminations(const model::Layers& layers, const Snapped& snapped,
                           base::FindingSink& findings) {
    if (layers.terminations.empty()) {
        return;
    }
    const AssetNodes nodes(layers, snapped);
    const IdMap cables = ids_of(layers.cables);
    for (const model::Termination& row : layers.terminations) {
        const NodeId node = nodes.find(row);
        const auto cable = cables.find(row.cable_id);
        if (!node.is_valid() || cable == cables.end()) {
            findings.add(nameless(layers, row));
            continue;
        }
        m_ends.push_back({base::CableId(cable->second), node, row.state, row.side, row.earth});
        if (row.side == model::CutOutSide::fused &&
            snapped.nodes[node.index()].kind == NodeKind::column) {
            m_fused_nodes.push_back(node);
        }
    }
    std::ranges::stable_sort(m_ends, by_end);
    std::ranges::sort(m_fused_nodes);
    for (const CableEnd& end : merge_ends()) {
        findings.add(contradicting(layers, snapped, end));
    }
}

std::vector<CableEnd> Terminations::merge_ends() {
    std::vector<CableEnd> contradicted;
    std::vector<CableEnd> merged;
    for (const CableEnd& end : m_ends) {
        if (merged.empty() || by_end(merged.back(), end)) {
            merged.push_back(end);
            continue;
        }
        CableEnd& kept = merged.back();
        const bool agrees =
            kept.state == end.state && kept.side == end.side && kept.earth == end.earth;
        kept.state = kept.state == end.state ? kept.state : model::CableEndState::open;
        kept.side = kept.side == end.side ? kept.side : model::CutOutSide::unknown;
        kept.earth = worse(kept.earth, end.earth);
        if (!agrees && (contradicted.empty() || by_end(contradicted.back(), end))) {
            contradicted.push_back(end);
        }
    }
    m_ends = std::move(merged);
    return contradicted;
}

CableEnd Terminations::at(base::CableId cable, NodeId node) const {
    const CableEnd key{cable, node, {}, {}, {}};
    const auto found = std::lower_bound(m_ends.begin(), m_ends.end(), key, by_end);
    return found != m_ends.end() && found->cable == cable && found->node == node ? *found : key;
}

bool Terminations::has_fused_side(NodeId node) const {
    return std::ranges::binary_search(m_fused_nodes, node);
}

} // namespace loopwalk::network
