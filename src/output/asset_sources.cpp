#include "asset_sources.hpp"

#include <charconv>
#include <string_view>

namespace loopwalk::output {

namespace {

using base::AssetLayer;

std::string joined(const model::Layers& layers, base::TextId first, base::TextId second) {
    const std::string end = layers.id_text(second);
    return layers.id_text(first) + (end.empty() ? "" : "/" + end);
}

/// A row as findings call it.
std::string name_of(const model::Layers& layers, AssetLayer layer, std::size_t i) {
    switch (layer) {
    case AssetLayer::columns:
        return layers.id_text(layers.columns[i].id);
    case AssetLayer::cables:
        return layers.id_text(layers.cables[i].id);
    case AssetLayer::supplies:
        return layers.id_text(layers.supplies[i].id);
    case AssetLayer::ways:
        return joined(layers, layers.ways[i].supply_id, layers.ways[i].way);
    case AssetLayer::joints:
        return layers.id_text(layers.joints[i].id);
    case AssetLayer::mains:
        return layers.id_text(layers.mains[i].id);
    case AssetLayer::terminations:
        return joined(layers, layers.terminations[i].asset_id, layers.terminations[i].cable_id);
    case AssetLayer::loads:
        return joined(layers, layers.loads[i].column_id, layers.loads[i].use);
    case AssetLayer::readings:
        return layers.id_text(layers.readings[i].asset_id);
    }
    return {};
}

/// The number in "fid:7".
std::optional<std::int64_t> fid_in(std::string_view id) {
    constexpr std::string_view kStart = "fid:";
    if (!id.starts_with(kStart)) {
        return std::nullopt;
    }
    std::int64_t fid = 0;
    const char* const begin = id.data() + kStart.size();
    const auto [end, error] = std::from_chars(begin, id.data() + id.size(), fid);
    return error == std::errc() && end != begin ? std::optional(fid) : std::nullopt;
}

} // namespace

AssetSources::AssetSources(const input::ReadResult& read, const model::Layers& layers)
    : m_read(read) {
    for (std::size_t i = 0; i < base::kAssetLayerCount; ++i) {
        if (read.parts[i].size() > 1) {
            m_any = true;
            add_layer(static_cast<AssetLayer>(i), layers);
        }
    }
}

void AssetSources::add_layer(AssetLayer layer, const model::Layers& layers) {
    const auto i = static_cast<std::size_t>(layer);
    for (std::size_t n = 0; n < m_read.fid_of_feature[i].size(); ++n) {
        const std::string name = name_of(layers, layer, m_read.position_of_feature[i][n]);
        const Place place = place_of(layer, m_read.fid_of_feature[i][n]);
        const auto [known, is_new] = m_places[i].try_emplace(name, place);
        if (!is_new) {
            known->second.reset();
        }
    }
}

/// The feature ids of a part begin above those of the parts before it.
AssetSources::Place AssetSources::place_of(AssetLayer layer, std::int64_t fid) const {
    const auto& parts = m_read.parts[static_cast<std::size_t>(layer)];
    std::size_t part = parts.size() - 1;
    while (part > 0 && fid < parts[part].offset) {
        --part;
    }
    return {part, fid};
}

std::optional<AssetSources::Place> AssetSources::of(AssetLayer layer, const std::string& id) const {
    const auto i = static_cast<std::size_t>(layer);
    const auto found = m_places[i].find(id);
    if (found != m_places[i].end()) {
        return found->second;
    }
    const std::optional<std::int64_t> fid = fid_in(id);
    return fid && m_read.parts[i].size() > 1 ? std::optional(place_of(layer, *fid)) : std::nullopt;
}

} // namespace loopwalk::output
