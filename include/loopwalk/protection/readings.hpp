// Test readings against the limits of a column's devices (method.md section 11).
#pragma once

#include "loopwalk/base/grouped.hpp"
#include "loopwalk/config/config.hpp"
#include "loopwalk/protection/judgement.hpp"

#include <optional>
#include <span>
#include <unordered_map>

namespace loopwalk::protection {

/// What a reading of loop impedance says of one side of a cut-out.
struct ReadingWeight {
    base::Ohm surely;   ///< the loop is no less, at the conductors' temperature of the test
    base::Ohm warmed;   ///< what it stands for with warm conductors and at that side's place
    base::Ohm added;    ///< `warmed` is reading and this over `share`
    double share = 1.0; ///< of a limit that a cold reading is held against
    /// The reading that stands for just a limit.
    [[nodiscard]] base::Ohm highest(base::Ohm limit) const noexcept {
        return limit * share - added;
    }
};

/// Which side of a cut-out's fuse.
enum class CutOutPart : std::uint8_t { incoming, beyond };

/// Of a path whose every type, length and source is on record: what warming adds to its loop.
struct Warming {
    base::Ohm from_20c; ///< loop with all conductors as warm as in service, less that at 20 C
    base::Ohm at_20c;   ///< the loop with its conductors at 20 C
};

/// What a loop test at a column went through.
struct TestPath {
    base::Ohm tail;                 ///< loop of the column's tail, hot, high bound
    std::optional<Warming> warming; ///< none: something on the path is not on record
};

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
    /// At the lantern, or where the place is not known, the tail may be part of a reading. Cold
    /// conductors: the growth to their warmth is worked at a cut-out whose path is wholly on
    /// record, if the temperature of the test is and the reading is no more than predicted; else
    /// `reading_share` stands for it (BS 7671 appendix 3). Precondition: the row has a loop
    /// impedance.
    [[nodiscard]] ReadingWeight weigh(const model::Reading& row, CutOutPart part,
                                      const TestPath& path) const;
    /// A reading that breaks the limit makes that side fail whatever is predicted, one that leaves
    /// too little for warm conductors leaves it open; a low one proves nothing. What was predicted
    /// stays beside it; the margin is the worse.
    void apply(base::ColumnId id, const TestPath& path, Side& in, Side& out) const;
    /// The most that a cut-out should read with conductors at 20 C: whichever is less of
    /// `reading_share` of the limit and the limit less the worked growth; the latter where the
    /// records, complete, predict a reading between both.
    [[nodiscard]] base::Ohm highest_cold(base::Ohm limit, const TestPath& path) const;
    /// How far a loop test of `zs` may be off, its instrument's error (settings test_error_...).
    [[nodiscard]] base::Ohm test_error(model::TestMethod method, base::Ohm zs) const;
    /// The largest prospective current, kA, that counts at a column; none if none was read.
    [[nodiscard]] base::Maybe<base::Number> largest_ka(base::ColumnId id) const;
    /// Columns with a reading of loop impedance.
    [[nodiscard]] const std::vector<base::ColumnId>& columns() const { return m_columns; }

  private:
    void apply_row(const model::Reading& row, CutOutPart part, const TestPath& path,
                   Side& side) const;

    const model::Layers& m_layers;
    const config::Rules& m_rules;
    base::Grouped<base::ColumnId> m_rows;
    std::vector<base::ColumnId> m_columns;
    std::unordered_map<base::TextId, base::Number> m_largest_ka; ///< by column_id
};

} // namespace loopwalk::protection
