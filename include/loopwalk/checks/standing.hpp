// What the findings mean for each asset: the worst that concerns it, and how many do. A finding
// concerns the asset it stands at, those that it names, and of a column, cable or device also the
// way and the supply that feed it.
#pragma once

#include "loopwalk/checks/review.hpp"

#include <optional>
#include <span>
#include <vector>

namespace loopwalk::checks {

/// Of one asset. `severity` and `rule` mean nothing without findings.
struct AssetStanding {
    std::uint32_t findings = 0; ///< how many concern it
    base::Severity severity{};  ///< of the worst finding
    base::Rule rule{};          ///< of the worst finding

    /// Some finding says that people may be hurt, or that a limit is not met.
    [[nodiscard]] bool is_bad() const noexcept {
        return findings > 0 && severity <= base::Severity::fail;
    }
};

/// By asset, in the order of the records; ways in the order of the network.
struct Standing {
    /// one for each row of the layer
    std::vector<AssetStanding> columns, cables, supplies, ways, joints, mains;
    std::uint32_t meets_but_bad =
        0; ///< columns that are predicted to meet their limits all the same
};

/// Assets that a finding concerns, each once.
class Concerned {
  public:
    /// `network` and `layers` outlive it.
    Concerned(const model::Layers& layers, const network::Network& network)
        : m_layers(layers), m_net(network) {}

    /// The asset itself, those that the finding names, and the way and supply that feed them;
    /// sorted.
    [[nodiscard]] std::vector<base::Concern> by(const base::Finding& finding) const;
    /// Column whose road and area are the finding's: its own, else the first that it names.
    [[nodiscard]] std::optional<base::ColumnId> column_of(const base::Finding& finding) const;

  private:
    [[nodiscard]] std::optional<base::Concern> own(const base::Finding& finding) const;
    void add_feed(const base::Finding& finding, std::vector<base::Concern>& found) const;

    const model::Layers& m_layers;
    const network::Network& m_net;
};

/// `findings`: sorted, the worst first.
[[nodiscard]] Standing stand(const model::Layers& layers, const network::Network& network,
                             const Review& review, std::span<const base::Finding> findings);

} // namespace loopwalk::checks
