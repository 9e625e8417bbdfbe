// Test readings against the limits of a column's devices (method.md section 11).
#pragma once

#include "loopwalk/base/grouped.hpp"
#include "loopwalk/config/config.hpp"
#include "loopwalk/protection/judgement.hpp"

#include <span>

namespace loopwalk::protection {

/// What a reading of loop impedance says of one side of a cut-out.
struct ReadingWeight {
    base::Ohm surely; ///< the loop is no less, at the conductors' temperature of the test
    base::Ohm warmed; ///< what it stands for with warm conductors and at that side's place
};

/// Which side of a cut-out's fuse.
enum class CutOutPart : std::uint8_t { incoming, beyond };

/// Test readings by column, and what they do to verdicts (BS 7671 appendix 3).
class Readings {
  public:
    /// Both outlive it.
    Readings(const model::Layers& layers, const config::Rules& rules);

    /// Rows of `readings` that count at a column: of each place the newest dated ones, and all that
    /// have no date.
    [[nodiscard]] std::span<const std::uint32_t> of(base::ColumnId id) const {
        return m_rows.of(id);
    }
    /// `tail`: loop of the column's tail, high bound. At the lantern, or where the place is not
    /// known, it may be part of a reading. Precondition: the row has a loop impedance.
    [[nodiscard]] ReadingWeight weigh(const model::Reading& row, CutOutPart part,
                                      base::Ohm tail) const;
    /// A reading that breaks the limit makes that side fail whatever is predicted, one that leaves
    /// too little for warm conductors leaves it open; a low one proves nothing. What was predicted
    /// stays beside it; the margin is the worse.
    void apply(base::ColumnId id, base::Ohm tail, Side& in, Side& out) const;
    /// Columns with a reading.
    [[nodiscard]] const std::vector<base::ColumnId>& columns() const { return m_columns; }

  private:
    void apply_row(const model::Reading& row, CutOutPart part, base::Ohm tail, Side& side) const;

    const model::Layers& m_layers;
    const config::Rules& m_rules;
    base::Grouped<base::ColumnId> m_rows;
    std::vector<base::ColumnId> m_columns;
};

} // namespace loopwalk::protection
