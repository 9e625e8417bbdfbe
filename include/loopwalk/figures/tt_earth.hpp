// What stands as earth of a TT column: the pillar's electrode through an intact earth path, its
// own, or both side by side (BS 7671 reg 411.5.3).
#pragma once

#include "loopwalk/figures/figures.hpp"

namespace loopwalk::figures {

using base::Bounds;
using base::Maybe;
using base::Ohm;

/// Electrodes and protective conductor as recorded.
struct TtEarthRecord {
    Maybe<Ohm> pillar;                                                  ///< electrode of the supply
    Maybe<Ohm> own;                                                     ///< of the column
    impedance::EarthPathState path = impedance::EarthPathState::broken; ///< from the pillar
    Bounds<Ohm> path_ohms;                                              ///< R2
};

/// Ra + R2. Absent at the high bound: no electrode is on record that surely reaches the metalwork;
/// at the low bound as well: none that may.
struct TtEarth {
    Maybe<Ohm> low, high; ///< ohm
};

/// A column needs no electrode of its own where the pillar's reaches it. Two electrodes side by
/// side never lower the high bound below that of the better one. An electrode of the pillar that is
/// not on record may be of any size.
[[nodiscard]] TtEarth tt_earth(const TtEarthRecord& record);

/// Source and column are on electrodes (TT): the supply, or the column alone by its own record. No
/// overcurrent device clears a fault to earth there.
[[nodiscard]] bool is_tt(const model::Column& column, const Source* source);

/// What the records tell of the earth of such a column; the earth path as given. On a supply that
/// is not TT only the column's own electrode is meant to be its earth.
[[nodiscard]] TtEarthRecord tt_record(const model::Layers& layers, const network::Network& network,
                                      const Figures& figures, ColumnId column);

/// Electrode of the source: as recorded on a TT supply, else the range of one.
[[nodiscard]] base::Bounds<base::Ohm> source_electrode(const Source& source,
                                                       const config::Rules& rules);

} // namespace loopwalk::figures
