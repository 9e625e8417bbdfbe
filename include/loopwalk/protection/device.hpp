// A device as it may be, given what is recorded: which time-current curves can be its own, and what
// loop impedance it demands (method.md sections 2, 6 and 7).
#pragma once

#include "loopwalk/catalogue/curve.hpp"
#include "loopwalk/impedance/assumptions.hpp"

#include <map>
#include <string>
#include <vector>

namespace loopwalk::protection {

using impedance::Assumptions;
using impedance::FuseStandIns;

/// One possible identity of a device.
struct DeviceChoice {
    const catalogue::FuseType* type = nullptr;          ///< of the catalogue; outlives the choice
    base::Ampere rating;                                ///< as printed on it
    catalogue::SlowEdges edges;                         ///< that bracket its time-current curve
    base::Maybe<base::Number> breaking_ka;              ///< kA; absent: not known
    base::Maybe<base::Number> prearcing_i2t, total_i2t; ///< A2s
    bool is_gg = false;               ///< general purpose, full range, of IEC 60269
    bool is_current_limiting = false; ///< lets no more heat through at a larger current
    std::string holder;               ///< empty: not known
    /// Largest rating over the current-carrying capacity of a cable that it protects against
    /// overload (BS 7671 regs 433.1.1, 433.1.202, 433.1.203).
    base::Bounds<base::Number> overload_factor = catalogue::kUnknownOverloadFactor;
};

/// What a device of that type and rating is, from the catalogue's rows.
[[nodiscard]] DeviceChoice device_choice(const catalogue::FuseType& type, base::Ampere rating);

/// Everything a device can be; empty if its rating is not known (then nothing can be said).
struct DeviceChoices {
    std::vector<DeviceChoice> any_of; ///< as the record allows
    bool type_missing = false;        ///< no type on record
    bool rating_missing = false;      ///< no rating on record
    bool curve_missing = false;       ///< a known device whose rating has no curve of its own
};

/// From a record and what may stand for what it lacks. The catalogue outlives them.
[[nodiscard]] DeviceChoices choices_of(const model::FuseRecord& fuse,
                                       const catalogue::Catalogue& catalogue,
                                       const FuseStandIns& stand_ins);

/// Smallest currents that clear within a limit, over the choices.
struct LimitCurrents {
    base::Maybe<base::Ampere> certain;  ///< from here on every choice clears in time
    base::Maybe<base::Ampere> possible; ///< below this no choice does; absent: not bounded
};
/// Over a device's slow edges; see LimitCurrents.
[[nodiscard]] LimitCurrents limit_currents(const DeviceChoices& device, base::Second limit);

/// Longest operating time over the choices at a current.
[[nodiscard]] catalogue::OperatingTime longest_time(const DeviceChoices& device,
                                                    base::Ampere current);

/// Breaking capacity over the choices, kA. `highest` is unbounded unless it is known for all.
struct BreakingRange {
    bool is_known = false;              ///< for every choice, and there is one
    double lowest = 0.0, highest = 0.0; ///< kA
};
/// Of all that a device may be.
[[nodiscard]] BreakingRange breaking_range(const DeviceChoices& device);

/// Whether a breaking capacity is enough for a current, both in kA. A declared 16 kA, worked back
/// through the source's impedance, may come out a rounding error above a fuse's 16 kA: it is equal.
[[nodiscard]] bool can_break(double capacity_ka, double current_ka) noexcept;

/// Choices of every record met so far: columns share a handful of them.
class DeviceBook {
  public:
    DeviceBook(const catalogue::Catalogue& catalogue, const Assumptions& assumptions)
        : m_catalogue(catalogue), m_assumptions(assumptions) {}
    /// `layer`: whose record it is; it decides the stand-ins. The reference stays valid.
    [[nodiscard]] const DeviceChoices& of(const model::FuseRecord& fuse, base::AssetLayer layer);

  private:
    using Key = std::tuple<base::AssetLayer, model::FuseRecord::Word, base::FuseTypeId, double>;
    const catalogue::Catalogue& m_catalogue;
    const Assumptions& m_assumptions;
    std::map<Key, DeviceChoices> m_known;
};

} // namespace loopwalk::protection
