#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"
#include "loopwalk/report/explain.hpp"

#include <algorithm>
#include <array>
#include <tuple>

namespace loopwalk::report {
namespace {

using base::AssetLayer;

constexpr std::array kLayers = {AssetLayer::columns, AssetLayer::cables, AssetLayer::supplies,
                                AssetLayer::joints, AssetLayer::ways};
constexpr std::size_t kMostNamed = 5;

/// Calls `visit(layer, index, id)` for each asset that has a page; a way is "supply/way".
template <class Visit>
void for_each_asset(const model::Layers& layers, const network::Network& network, Visit visit) {
    const auto all = [&](AssetLayer layer, const auto& assets) {
        for (std::size_t i = 0; i < assets.size(); ++i) {
            visit(layer, i, layers.text.view(assets[i].id));
        }
    };
    all(AssetLayer::columns, layers.columns);
    all(AssetLayer::cables, layers.cables);
    all(AssetLayer::supplies, layers.supplies);
    all(AssetLayer::joints, layers.joints);
    for (std::size_t w = 0; w < network.ways.size(); ++w) {
        const network::Way& way = network.ways[w];
        visit(AssetLayer::ways, w,
              layers.id_text(layers.supplies[way.supply.index()].id) + "/" +
                  layers.id_text(way.name));
    }
}

std::string qualified(AssetLayer layer, std::string_view id) {
    return std::string(base::layer_name(layer)) + ":" + std::string(id);
}

/// "C12 (column), C13": the ids that differ least, as they may be typed.
std::string nearest_ids(const model::Layers& layers, const network::Network& network,
                        std::string_view wanted, std::optional<AssetLayer> only) {
    std::vector<std::tuple<std::size_t, std::string>> near;
    for_each_asset(layers, network, [&](AssetLayer layer, std::size_t, std::string_view id) {
        if (only.has_value() && layer != *only) {
            return;
        }
        near.emplace_back(base::edit_distance(wanted, id), qualified(layer, id));
        if (near.size() > 1000) { // keep the list short on a county
            std::ranges::nth_element(near, near.begin() + kMostNamed);
            near.resize(kMostNamed);
        }
    });
    std::ranges::sort(near);
    std::vector<std::string> names;
    for (std::size_t i = 0; i < std::min(near.size(), kMostNamed); ++i) {
        names.push_back(std::get<1>(near[i]));
    }
    return base::listed(names, kMostNamed);
}

struct Wanted {
    std::optional<AssetLayer> layer;
    std::string_view id;
};

/// An id may hold a colon itself ("fid:7"): only the name of a layer before it is a prefix.
Wanted parsed(std::string_view name) {
    const std::size_t colon = name.find(':');
    if (colon == std::string_view::npos) {
        return {std::nullopt, name};
    }
    const auto layer = base::layer_of(name.substr(0, colon));
    if (!layer.has_value()) {
        return {std::nullopt, name};
    }
    if (std::ranges::find(kLayers, *layer) == kLayers.end()) {
        throw base::ConfigError("layer '" + std::string(name.substr(0, colon)) +
                                "' has no pages: name a column, cable, supply, joint or way.");
    }
    return {layer, name.substr(colon + 1)};
}

} // namespace

Asset find_asset(const model::Layers& layers, const network::Network& network,
                 std::string_view name) {
    const Wanted wanted = parsed(name);
    std::vector<Asset> found;
    for_each_asset(layers, network, [&](AssetLayer layer, std::size_t index, std::string_view id) {
        if (id == wanted.id && (!wanted.layer.has_value() || layer == *wanted.layer)) {
            found.push_back({layer, index});
        }
    });
    if (found.size() == 1) {
        return found.front();
    }
    if (found.size() > 1) {
        std::vector<std::string> names;
        names.reserve(found.size());
        for (const Asset& asset : found) {
            names.push_back(qualified(asset.layer, wanted.id));
        }
        throw base::ConfigError("several layers have an asset '" + std::string(wanted.id) +
                                "': say which, " + base::listed(names, names.size()) + ".");
    }
    const std::string near = nearest_ids(layers, network, wanted.id, wanted.layer);
    throw base::ConfigError("the records have no column, cable, supply, joint or way '" +
                            std::string(name) + "'" +
                            (near.empty() ? "." : "; nearest are " + near + "."));
}

} // namespace loopwalk::report
