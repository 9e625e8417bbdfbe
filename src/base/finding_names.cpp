// Text forms of the findings' enumerations.
#include "loopwalk/base/finding.hpp"
#include "loopwalk/base/text.hpp"

namespace loopwalk::base {

std::string_view severity_name(Severity s) noexcept {
    switch (s) {
    case Severity::danger:
        return "danger";
    case Severity::fail:
        return "fail";
    case Severity::warning:
        return "warning";
    case Severity::note:
        return "note";
    }
    return "";
}

std::string_view layer_name(AssetLayer layer) noexcept {
    switch (layer) {
    case AssetLayer::columns:
        return "columns";
    case AssetLayer::cables:
        return "cables";
    case AssetLayer::supplies:
        return "supplies";
    case AssetLayer::ways:
        return "ways";
    case AssetLayer::joints:
        return "joints";
    case AssetLayer::mains:
        return "mains";
    case AssetLayer::terminations:
        return "terminations";
    case AssetLayer::loads:
        return "loads";
    case AssetLayer::readings:
        return "readings";
    }
    return "";
}

std::optional<AssetLayer> layer_of(std::string_view name) noexcept {
    for (std::size_t i = 0; i < kAssetLayerCount; ++i) {
        if (const auto layer = static_cast<AssetLayer>(i); same_word(layer_name(layer), name)) {
            return layer;
        }
    }
    return std::nullopt;
}

} // namespace loopwalk::base
