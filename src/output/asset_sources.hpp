// Which source an asset comes from, where the job names several for its layer.
#pragma once

#include "loopwalk/output/write.hpp"

#include <array>
#include <optional>
#include <string>
#include <unordered_map>

namespace loopwalk::output {

class AssetSources {
  public:
    AssetSources(const input::ReadResult& read, const model::Layers& layers);
    /// Whether any layer has several sources.
    [[nodiscard]] bool any() const noexcept { return m_any; }

    struct Place {
        std::size_t part = 0; ///< of ReadResult::parts
        std::int64_t fid = 0; ///< with the offset of the part
    };
    /// None for a layer with one source, an asset that is not there, or a row that is not the only
    /// one of its name.
    [[nodiscard]] std::optional<Place> of(base::AssetLayer layer, const std::string& id) const;

  private:
    void add_layer(base::AssetLayer layer, const model::Layers& layers);
    [[nodiscard]] Place place_of(base::AssetLayer layer, std::int64_t fid) const;

    const input::ReadResult& m_read;
    bool m_any = false;
    std::array<std::unordered_map<std::string, std::optional<Place>>, base::kAssetLayerCount>
        m_places;
};

} // namespace loopwalk::output
