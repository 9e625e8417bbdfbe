// What tells that a layer has a role: its geometry, its name, fields that few other layers have.
// For this folder only.
#pragma once

#include "guess_parts.hpp"
#include <array>

namespace loopwalk::draft {

inline constexpr std::array kAllRoles{
    base::AssetLayer::columns,      base::AssetLayer::cables, base::AssetLayer::supplies,
    base::AssetLayer::ways,         base::AssetLayer::joints, base::AssetLayer::mains,
    base::AssetLayer::terminations, base::AssetLayer::loads,  base::AssetLayer::readings};

[[nodiscard]] bool shape_fits(base::AssetLayer role, const LayerProfile& layer);
/// Layers without geometry, which refer to others.
[[nodiscard]] bool is_table(base::AssetLayer role);
/// Fields that tell a role: others, such as `status`, any layer may have.
[[nodiscard]] bool is_telling(base::AssetLayer role, std::string_view field);

/// What a layer's name says about a role.
enum class NameSays : std::uint8_t { other_thing, nothing, perhaps, yes };

/// The roles that a name speaks of.
class LayerName {
  public:
    LayerName(const LayerProfile& layer, const Vocabulary& vocabulary);
    [[nodiscard]] NameSays about(base::AssetLayer role) const;
    /// The name speaks of what never is a part of street lighting: gas, traffic signals.
    [[nodiscard]] bool is_never() const noexcept { return m_is_never; }

  private:
    std::vector<NameWord> m_words;
    bool m_is_never, m_is_foreign, m_is_lighting;
    std::vector<double> m_scores; ///< by role
};

} // namespace loopwalk::draft
