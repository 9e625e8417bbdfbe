// What the steps of reading share: sources, settings, the result, and for each layer what is
// needed until its findings are written.
#pragma once

#include "loopwalk/input/read_layers.hpp"

#include "issue.hpp"
#include "order.hpp"
#include <unordered_map>

namespace loopwalk::input {

inline constexpr std::size_t kMostFields = 32; ///< of a layer of the contract

/// How often each field of a layer is known, by area.
class KnownCounts {
  public:
    /// One more feature; bit i of `known` stands for field i of contract_fields().
    void add(base::TextId area, std::uint32_t known);
    /// Rows for every field but the needed ones (ids), areas in text order. More areas than
    /// kMostAreas are no wards or rounds: then all features count together.
    void report(base::AssetLayer layer, const base::TextPool& text,
                std::vector<Completeness>& rows) const;
    [[nodiscard]] bool has_too_many_areas() const noexcept { return m_areas.size() > kMostAreas; }
    static constexpr std::size_t kMostAreas = 2000;

  private:
    struct Count {
        std::int64_t total = 0;
        std::array<std::int64_t, kMostFields> known{};
        void add(const Count& other);
    };
    [[nodiscard]] Count sum() const;
    std::unordered_map<base::TextId, Count> m_areas;
};

struct LayerRecord {
    std::vector<Issue> issues;
    std::vector<std::int64_t> fids; ///< of the n-th feature of the file, with the part's offset
    std::vector<SourcePart> parts;
    /// Translations by (field, pattern): whether a record needed them.
    std::map<std::pair<std::size_t, std::string>, bool> translations;
    Order order;
    KnownCounts known;

    /// Which of the sources a feature comes from.
    [[nodiscard]] std::size_t part_of(std::uint32_t feature) const noexcept;
};

/// Coordinate systems: the working one, and the cables' own (the working one if not stated).
struct Systems {
    gis::Crs working;
    gis::Crs cables;
};

struct Context {
    Source& source;
    const config::Job& job;
    const catalogue::Catalogue& catalogue;
    base::FindingSink& findings;
    base::Progress& progress;
    Systems systems;
    ReadResult result{};
    std::array<LayerRecord, base::kAssetLayerCount> records{};

    [[nodiscard]] LayerRecord& record(base::AssetLayer layer) noexcept {
        return records[static_cast<std::size_t>(layer)];
    }
    [[nodiscard]] base::TextPool& text() noexcept { return result.layers.text; }
};

} // namespace loopwalk::input
