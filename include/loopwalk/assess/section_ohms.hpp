// Length and impedance of single sections, for the output's sections layer.
#pragma once

#include "loopwalk/assess/figures.hpp"

#include <memory>

namespace loopwalk::assess {

class PathMaker;

class SectionOhms {
  public:
    SectionOhms(const model::Layers& layers, const catalogue::Catalogue& catalogue,
                const config::Rules& rules, const Assumptions& assumptions,
                const network::Network& network);
    SectionOhms(const SectionOhms&) = delete;
    SectionOhms& operator=(const SectionOhms&) = delete;
    ~SectionOhms();

    /// Exact where a length is laid, else a range (method.md section 2).
    [[nodiscard]] base::Bounds<base::Metre> length(base::SectionId id) const;
    /// Of the section's cable; armour left out where it is not bonded.
    [[nodiscard]] const CablePerKm& per_km(base::SectionId id) const;
    /// Hot conductors at the high bound, ohm.
    [[nodiscard]] Conductors hot_high(base::SectionId id) const;

  private:
    const network::Network& m_net;
    std::unique_ptr<PathMaker> m_paths;
};

} // namespace loopwalk::assess
