// What hangs in each column electrically.
#pragma once

#include "loopwalk/base/grouped.hpp"
#include "loopwalk/impedance/assumptions.hpp"
#include "loopwalk/model/layers.hpp"

#include <span>
#include <string_view>
#include <vector>

namespace loopwalk::figures {

using impedance::Assumptions;

/// Real and reactive power of a column, smallest and largest burden on the cable.
struct ColumnLoad {
    base::Bounds<base::Watt> real;     ///< with gear, W
    base::Bounds<base::Watt> reactive; ///< var; lagging positive, leading negative
    bool is_assumed = false;           ///< a power or power factor was not recorded
};

/// A socket, festive lights or a charger: what a person plugs in and holds.
[[nodiscard]] bool is_hand_held_use(std::string_view use);
/// A charger for vehicles.
[[nodiscard]] bool is_charger(std::string_view use);

/// Rows of `loads` by column.
class LoadBook {
  public:
    /// Both outlive it.
    LoadBook(const model::Layers& layers, const Assumptions& assumptions);

    /// Rows of `loads` that name the column, in canonical order; empty: its own attributes hold.
    [[nodiscard]] std::span<const std::uint32_t> rows(base::ColumnId column) const;
    /// The sum over its loads; the column's own attributes where it has no rows.
    [[nodiscard]] ColumnLoad of(base::ColumnId id) const;
    /// Each load of a column with its phase (unknown unless recorded on it or its column).
    struct OnPhase {
        /// unknown: high bounds take it as on the worst phase
        model::Phase phase = model::Phase::unknown;
        ColumnLoad load; ///< of that row
    };
    /// One for each row of `loads`, or one for the column itself.
    [[nodiscard]] std::vector<OnPhase> by_phase(base::ColumnId id) const;

  private:
    const model::Layers& m_layers;
    const Assumptions& m_assumptions;
    base::Grouped<base::ColumnId> m_rows;
};

} // namespace loopwalk::figures
