// What may stand in the place of each missing attribute: the job's own ranges, else the defaults
// of method.md section 12. Never one silent value.
#pragma once

#include "loopwalk/catalogue/catalogue.hpp"
#include "loopwalk/config/config.hpp"
#include "loopwalk/impedance/impedance.hpp"
#include "loopwalk/model/layers.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loopwalk::impedance {

/// Types and ratings that may stand for a missing device record of one layer.
struct FuseStandIns {
    std::vector<base::FuseTypeId> types; ///< empty: every fuse type (no breakers)
    std::vector<base::Ampere> ratings;   ///< empty: none; a missing rating stays undecided
};

/// What may stand in the place of each attribute that the records lack: of docs/method.md section
/// 12, or of the job.
struct Assumptions {
    CablePerKm missing_cable;          ///< envelope for a missing cable type
    CablePerKm missing_cable_unbonded; ///< the same with no armour in parallel
    CablePerKm missing_tail;           ///< envelope for a missing type of tail
    CablePerKm missing_main;           ///< of a distributor's main
    std::vector<base::CableTypeId> missing_cable_types, missing_tail_types; ///< what they envelop
    base::Bounds<base::Watt> load, use_load;               ///< of a column, of a row of `loads`
    base::Bounds<base::Number> power_factor;               ///< of a load
    std::optional<base::Bounds<base::Metre>> cable_length; ///< of a whole cable; else as drawn
    /// the job's range for a missing length of a tail; else from the height
    std::optional<base::Bounds<base::Metre>> tail;
    base::Bounds<base::Metre> height; ///< of a column whose height is not on record
    /// the job's range for a missing Ze; else by earthing
    std::optional<base::Bounds<base::Ohm>> ze;
    /// the job's range, kA; else up to `pscc_service_ka`
    std::optional<base::Bounds<base::Number>> pscc_ka;
    /// by layer of the device
    FuseStandIns column_fuse, way_fuse, supply_fuse, joint_fuse, load_fuse;
    std::vector<std::string> used; ///< sentences for the run record
};

/// Throws ConfigError for a word in `missing` that the catalogue does not have.
[[nodiscard]] Assumptions resolve_assumptions(const config::Job& job,
                                              const catalogue::Catalogue& catalogue);

/// Throws ConfigError where a column records no tail that the catalogue knows and no row of the
/// catalogue could stand for it.
void check_tails(const model::Layers& layers, const Assumptions& assumptions);

/// Length of a column's tail: recorded, else the job's range, else 0 to height + rules.
[[nodiscard]] base::Bounds<base::Metre> tail_length(const model::Column& column,
                                                    const Assumptions& assumptions,
                                                    const config::Rules& rules);

} // namespace loopwalk::impedance
