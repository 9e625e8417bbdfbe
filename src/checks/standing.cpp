#include "loopwalk/checks/standing.hpp"

#include <algorithm>

namespace loopwalk::checks {

using base::AssetLayer;
using base::Concern;
using base::Finding;

namespace {

/// Position of an id among records in the order of their ids.
template <class Rows>
std::optional<std::uint32_t> find_id(const model::Layers& layers, const Rows& rows,
                                     std::string_view id) {
    const auto at = std::ranges::lower_bound(
        rows, id, {}, [&](const auto& row) { return layers.text.view(row.id); });
    return at != rows.end() && layers.text.view(at->id) == id
               ? std::optional(static_cast<std::uint32_t>(at - rows.begin()))
               : std::nullopt;
}

std::vector<AssetStanding>* of_layer(Standing& standing, AssetLayer layer) {
    switch (layer) {
    case AssetLayer::columns:
        return &standing.columns;
    case AssetLayer::cables:
        return &standing.cables;
    case AssetLayer::supplies:
        return &standing.supplies;
    case AssetLayer::ways:
        return &standing.ways;
    case AssetLayer::joints:
        return &standing.joints;
    case AssetLayer::mains:
        return &standing.mains;
    case AssetLayer::terminations:
    case AssetLayer::loads:
    case AssetLayer::readings:
        break;
    }
    return nullptr;
}

} // namespace

/// Rows of terminations, loads and readings are named by their asset, most often a column.
std::optional<Concern> Concerned::own(const Finding& finding) const {
    std::optional<std::uint32_t> at;
    AssetLayer layer = finding.layer;
    switch (finding.layer) {
    case AssetLayer::cables:
        at = find_id(m_layers, m_layers.cables, finding.asset_id);
        break;
    case AssetLayer::supplies:
        at = find_id(m_layers, m_layers.supplies, finding.asset_id);
        break;
    case AssetLayer::joints:
        at = find_id(m_layers, m_layers.joints, finding.asset_id);
        break;
    case AssetLayer::mains:
        at = find_id(m_layers, m_layers.mains, finding.asset_id);
        break;
    case AssetLayer::columns:
    case AssetLayer::terminations:
    case AssetLayer::loads:
    case AssetLayer::readings:
        layer = AssetLayer::columns;
        at = find_id(m_layers, m_layers.columns, finding.asset_id);
        break;
    case AssetLayer::ways:
        break; // by supply and way
    }
    return at.has_value() ? std::optional(Concern{layer, *at}) : std::nullopt;
}

void Concerned::add_feed(const Finding& finding, std::vector<Concern>& found) const {
    if (finding.supply_id.empty()) {
        return;
    }
    const auto supply = find_id(m_layers, m_layers.supplies, finding.supply_id);
    if (!supply.has_value()) {
        return;
    }
    found.push_back({AssetLayer::supplies, *supply});
    const base::SupplyId of(*supply);
    auto way = std::ranges::lower_bound(m_net.ways, of, {}, &network::Way::supply);
    for (; way != m_net.ways.end() && way->supply == of; ++way) {
        if (!finding.way.empty() && m_layers.text.view(way->name) == finding.way) {
            found.push_back(
                {AssetLayer::ways, static_cast<std::uint32_t>(way - m_net.ways.begin())});
        }
    }
}

std::vector<Concern> Concerned::by(const Finding& finding) const {
    std::vector<Concern> found = finding.concerns;
    if (const auto at = own(finding)) {
        found.push_back(*at);
    }
    add_feed(finding, found);
    std::ranges::sort(found);
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
}

std::optional<base::ColumnId> Concerned::column_of(const Finding& finding) const {
    if (const auto at = own(finding); at.has_value() && at->layer == AssetLayer::columns) {
        return base::ColumnId(at->index);
    }
    const auto named = std::ranges::find(finding.concerns, AssetLayer::columns, &Concern::layer);
    return named != finding.concerns.end() ? std::optional(base::ColumnId(named->index))
                                           : std::nullopt;
}

Standing stand(const model::Layers& layers, const network::Network& network, const Review& review,
               std::span<const Finding> findings) {
    Standing standing;
    standing.columns.resize(layers.columns.size());
    standing.cables.resize(layers.cables.size());
    standing.supplies.resize(layers.supplies.size());
    standing.ways.resize(network.ways.size());
    standing.joints.resize(layers.joints.size());
    standing.mains.resize(layers.mains.size());
    const Concerned concerned(layers, network);
    for (const Finding& finding : findings) {
        for (const Concern& concern : concerned.by(finding)) {
            std::vector<AssetStanding>* assets = of_layer(standing, concern.layer);
            if (assets == nullptr) {
                continue;
            }
            AssetStanding& asset = (*assets)[concern.index];
            if (asset.findings == 0) { // the worst come first
                asset.severity = finding.severity;
                asset.rule = finding.rule;
            }
            ++asset.findings;
        }
    }
    for (std::size_t c = 0; c < standing.columns.size(); ++c) {
        const bool meets = review.verdicts[c] == Verdict::meets;
        standing.meets_but_bad += meets && standing.columns[c].is_bad() ? 1U : 0U;
    }
    return standing;
}

} // namespace loopwalk::checks
