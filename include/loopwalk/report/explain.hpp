// The whole working of one asset's figures, as a competent person would write it down.
// Docs: docs/explain.md.
#pragma once

#include "loopwalk/output/results.hpp"
#include "loopwalk/report/page.hpp"

#include <string_view>

namespace loopwalk::report {

/// An asset that has a page: a column, cable, supply, joint or way.
struct Asset {
    base::AssetLayer layer{}; ///< whose row it is
    std::size_t index = 0;    ///< in the layer's vector; of a way in the network's
};

/// The asset called `name`: an id, "supply/way", or "layer:id" where several layers have it. Throws
/// ConfigError naming the nearest ids if there is none, the layers if there are several.
[[nodiscard]] Asset find_asset(const model::Layers& layers, const network::Network& network,
                               std::string_view name);

/// The page. Each figure on it is worked out again from the lines before it and compared with the
/// one that `check` writes: throws InternalError if they differ.
[[nodiscard]] Page explain(const output::Results& results, protection::Judge& judge, Asset asset);

} // namespace loopwalk::report
