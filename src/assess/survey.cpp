#include "network_findings.hpp"
#include <algorithm>
#include <map>
#include <tuple>

namespace loopwalk::assess {
namespace {

using base::AssetLayer;

/// Counts, for each missing attribute of cables and supplies, the undecided columns beyond it.
/// Children come after their parents in the trace, so one pass from the back sums up subtrees.
class SurveyCounter {
  public:
    SurveyCounter(const ReviewInput& input, const std::vector<std::uint8_t>& undecided)
        : m_in(input), m_undecided(undecided) {}

    std::vector<SurveyRow> run() {
        m_all.assign(m_in.network.vertex_node.size(), 0);
        m_sole.assign(m_in.network.vertex_node.size(), 0);
        for (const trace::Component& component : m_in.trace.components) {
            if (component.feeding == trace::Feeding::one) {
                count(component);
            }
        }
        return rows();
    }

  private:
    using Key = std::tuple<AssetLayer, std::uint32_t, const char*>;

    void count(const trace::Component& component) {
        const auto vertices = m_in.trace.vertices(component);
        for (std::size_t i = vertices.size(); i-- > 0;) {
            const VertexId v = vertices[i];
            add_own(v);
            const VertexId parent = m_in.trace.parent[v.index()];
            if (!parent.is_valid()) {
                add_source(component, v);
                continue;
            }
            const base::EdgeId edge = m_in.trace.parent_edge[v.index()];
            if (m_all[v.index()] > 0 && m_in.network.is_section(edge)) {
                add_section(v, parent, edge);
            }
            m_all[parent.index()] += m_all[v.index()];
            m_sole[parent.index()] += m_sole[v.index()];
        }
    }

    void add_own(VertexId v) {
        const network::Node& node = m_in.network.snapped.nodes[m_in.network.node_of(v).index()];
        if (node.kind != network::NodeKind::column ||
            m_in.figures.columns[node.asset].vertex != v || m_undecided[node.asset] == 0) {
            return;
        }
        ++m_all[v.index()];
        m_sole[v.index()] += m_in.figures.columns[node.asset].missing.count == 1 ? 1U : 0U;
    }

    void add(AssetLayer layer, std::size_t asset, const char* attribute, VertexId v) {
        auto& [settled, touched] = m_counts[{layer, static_cast<std::uint32_t>(asset), attribute}];
        settled += m_sole[v.index()];
        touched += m_all[v.index()];
    }

    void add_section(VertexId v, VertexId parent, base::EdgeId edge) {
        const network::Section& section = m_in.network.snapped.sections[edge.index()];
        const base::EdgeId before = m_in.trace.parent_edge[parent.index()];
        const bool continues = m_in.trace.parent[parent.index()].is_valid() &&
                               m_in.network.is_section(before) &&
                               m_in.network.snapped.sections[before.index()].cable == section.cable;
        if (continues) {
            return; // counted where the path enters the cable
        }
        const model::Cable& cable = m_in.layers.cables[section.cable.index()];
        if (!cable.type.type.is_valid()) {
            add(AssetLayer::cables, section.cable.index(), "cable_type", v);
        }
        if (!cable.laid.has_value()) {
            add(AssetLayer::cables, section.cable.index(), "length_m", v);
        }
    }

    void add_source(const trace::Component& component, VertexId v) {
        const network::Root& root = m_in.network.roots[m_in.trace.roots_of(component)[0].index()];
        if (!root.way.is_valid() || m_all[v.index()] == 0) {
            return;
        }
        const base::SupplyId supply = m_in.network.ways[root.way.index()].supply;
        const Source& source = m_in.figures.sources[supply.index()];
        if (source.ze_missing) {
            add(AssetLayer::supplies, supply.index(), "ze_ohm", v);
        }
        if (source.earthing_missing) {
            add(AssetLayer::supplies, supply.index(), "earthing", v);
        }
    }

    std::vector<SurveyRow> rows() const {
        std::vector<SurveyRow> out;
        for (const auto& [key, counts] : m_counts) {
            const auto& [layer, asset, attribute] = key;
            const base::TextId id = layer == AssetLayer::cables ? m_in.layers.cables[asset].id
                                                                : m_in.layers.supplies[asset].id;
            out.push_back({layer, m_in.layers.id_text(id), attribute, counts.first, counts.second});
        }
        std::ranges::sort(out, [](const SurveyRow& a, const SurveyRow& b) {
            return std::tie(b.settled, b.touched, a.layer, a.asset_id, a.attribute) <
                   std::tie(a.settled, a.touched, b.layer, b.asset_id, b.attribute);
        });
        return out;
    }

    const ReviewInput& m_in;
    const std::vector<std::uint8_t>& m_undecided;
    std::vector<std::uint32_t> m_all, m_sole; ///< by vertex: undecided columns in its subtree
    std::map<Key, std::pair<std::uint32_t, std::uint32_t>> m_counts;
};

} // namespace

std::vector<SurveyRow> rank_survey(const ReviewInput& input,
                                   const std::vector<std::uint8_t>& undecided) {
    return SurveyCounter(input, undecided).run();
}

} // namespace loopwalk::assess
