// Length and impedance of single sections, for the output's sections layer.
#pragma once

#include "loopwalk/figures/figures.hpp"

#include <memory>

namespace loopwalk::figures {

using impedance::CablePerKm;
using impedance::Conductors;
using impedance::per_km;
using solution::PathMaker;

/// Impedances of single sections, for those who explain or try values after the figures are made.
class SectionOhms {
  public:
    /// All outlive it.
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
    /// Hot line and earth path over a length, at the low and at the high bound, ohm; of the
    /// section's own cable, or of a type that it might be.
    struct HotLoop {
        Complex low, high; ///< line + earth path, ohm
        /// In series.
        HotLoop& operator+=(const HotLoop& other) noexcept {
            low += other.low;
            high += other.high;
            return *this;
        }
    };
    /// Of the section's own cable over a length other than its own.
    [[nodiscard]] HotLoop hot_loop(base::SectionId id,
                                   const base::Bounds<base::Metre>& length) const;
    /// As if its cable were of that type.
    [[nodiscard]] HotLoop hot_loop_if(base::SectionId id, base::CableTypeId type) const;
    /// Hot conductors at the high bound, ohm.
    [[nodiscard]] Conductors hot_high(base::SectionId id) const;

  private:
    const network::Network& m_net;
    std::unique_ptr<PathMaker> m_paths;
};

} // namespace loopwalk::figures
