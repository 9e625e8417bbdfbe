// Cable ends that someone may touch and the verdicts of a column do not speak of: of another supply
// or way, and at nothing.
#include "loopwalk/base/text.hpp"

#include "network_findings.hpp"
#include <algorithm>

namespace loopwalk::checks {

using ends::CableEnd;
using ends::EndState;
using network::NodeKind;

namespace {

using base::AssetLayer;
using base::Finding;
using base::NodeId;
using base::Rule;

class EndReporter : Reporter {
  public:
    explicit EndReporter(const CheckContext& context) : Reporter(context) {}

    void run() {
        const network::Snapped& snapped = m_in.network.snapped;
        for (std::size_t n = 0; n < snapped.nodes.size(); ++n) {
            if (snapped.nodes[n].kind != NodeKind::derived) {
                second_supply(NodeId(n));
            }
        }
        const auto& ends = snapped.ends_at_nothing; // by cable
        for (std::size_t i = 0; i < ends.size();) {
            std::size_t next = i + 1;
            while (next < ends.size() && ends[next].cable == ends[i].cable) {
                ++next;
            }
            at_nothing(std::span(ends).subspan(i, next - i));
            i = next;
        }
    }

  private:
    void second_supply(NodeId asset);
    [[nodiscard]] bool is_second(const CableEnd& end, NodeId asset) const;
    [[nodiscard]] std::string words(const CableEnd& end) const;
    void at_nothing(std::span<const network::LooseEnd> ends);
    [[nodiscard]] Finding at_asset(Rule rule, NodeId asset) const;
    [[nodiscard]] const trace::Component& component_of(base::ComponentId id) const {
        return m_in.trace.components[id.index()];
    }
};

Finding EndReporter::at_asset(Rule rule, NodeId asset) const {
    const network::Node& node = m_in.network.snapped.nodes[asset.index()];
    if (node.kind == NodeKind::column) {
        return m_build.at_column(rule, ColumnId(node.asset));
    }
    Finding f = base::finding_of(rule);
    f.layer = node.kind == NodeKind::supply ? AssetLayer::supplies : AssetLayer::joints;
    f.asset_id = network::node_name(m_in.layers, node);
    f.place = node.place;
    f.supply_id = node.kind == NodeKind::supply ? f.asset_id : std::string{};
    return f;
}

/// Fed by something that does not feed the asset itself: at a supply by another one, elsewhere by
/// all that is not joined to it.
bool EndReporter::is_second(const CableEnd& end, NodeId asset) const {
    const bool counts = end.state != EndState::recorded_removed &&
                        end.state != EndState::recorded_disconnected &&
                        end.state != EndState::not_drawn && end.fed_by.is_valid();
    if (!counts) {
        return false;
    }
    const network::Node& node = m_in.network.snapped.nodes[asset.index()];
    const trace::Component& component = component_of(end.fed_by);
    const bool is_source = node.kind == NodeKind::supply && m_in.layers.supplies[node.asset].kind !=
                                                                model::SupplyKind::section_pillar;
    if (is_source) {
        const network::Origin own = base::SupplyId(node.asset);
        return end.state == EndState::open_here &&
               std::ranges::any_of(m_in.trace.infeeds_of(component), [&](InfeedId infeed) {
                   return m_in.network.origin_of(infeed) != own;
               });
    }
    return &component != m_in.ends.own_feed(asset);
}

std::string EndReporter::words(const CableEnd& end) const {
    return "cable " + m_in.layers.id_text(m_in.layers.cables[end.cable.index()].id) + " from " +
           network::node_name(m_in.layers, m_in.network.snapped.nodes[end.other.index()]) +
           ", fed from " + m_explain.feeds_of(component_of(end.fed_by)) +
           (end.state == EndState::open_here ? ", recorded as open here" : "");
}

void EndReporter::second_supply(NodeId asset) {
    if (!m_in.ends.may_have_second(asset)) {
        return;
    }
    std::vector<std::string> found;
    std::vector<base::Concern> cables;
    for (const CableEnd& end : m_in.ends.at(asset)) {
        if (is_second(end, asset)) {
            found.push_back(words(end));
            cables.push_back({AssetLayer::cables, static_cast<std::uint32_t>(end.cable.index())});
        }
    }
    if (found.empty()) {
        return;
    }
    Finding f = at_asset(Rule::second_supply, asset);
    f.count = static_cast<std::int64_t>(found.size());
    f.concerns = std::move(cables);
    const trace::Component* own = m_in.ends.own_feed(asset);
    f.message = "A second supply ends in " + f.asset_id;
    f.message += own != nullptr ? ", which is fed from " + m_explain.feeds_of(*own) : "";
    f.message += ": " + base::joined(found, "; ") + ". It stays live when the other is off.";
    f.fix = "Candidate: a label at the door that names both; check on site where each is open.";
    m_findings.add(std::move(f));
}

void EndReporter::at_nothing(std::span<const network::LooseEnd> ends) {
    std::vector<NodeId> live;
    for (const network::LooseEnd& end : ends) {
        if (m_in.ends.is_fed(end.cable, end.node)) {
            live.push_back(end.node);
        }
    }
    const Rule rule = live.empty() ? Rule::loose_end : Rule::live_end;
    Finding f = m_build.at_cable(rule, ends.front().cable);
    const NodeId at = live.empty() ? ends.front().node : live.front();
    f.place = m_in.network.snapped.nodes[at.index()].place;
    const std::size_t count = live.empty() ? ends.size() : live.size();
    f.count = static_cast<std::int64_t>(count);
    f.message = (count == 1 ? std::string("An end") : std::to_string(count) + " ends") +
                " of cable " + f.asset_id + (count == 1 ? " lies" : " lie") +
                " at nothing on record";
    if (!live.empty()) {
        const trace::Component& component =
            component_of(m_in.ends.fed_by(ends.front().cable, live.front()));
        m_build.name_infeed(f, m_in.trace.infeeds_of(component)[0]);
        f.message += " and " + std::string(count == 1 ? "is" : "are") + " fed from " +
                     m_explain.feeds_of(component) + ": treat as live";
    }
    f.message += ".";
    f.fix = "Record what it ends at, or a joint of kind pot end; check on site.";
    m_findings.add(std::move(f));
}

} // namespace

void report_ends(const CheckContext& context) {
    EndReporter(context).run();
}

} // namespace loopwalk::checks
