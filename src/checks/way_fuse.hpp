// The one rating for the fuse of a whole way: the largest that clears at every column, and the
// smallest that its load and the cut-outs behind it allow. Neither is an instruction to fit.
#pragma once

#include "loopwalk/checks/review.hpp"

namespace loopwalk::checks {

/// Gathers what the columns of a way allow, one after the other.
class WayFuses {
  public:
    WayFuses(const ReviewInput& input, protection::Devices& devices)
        : m_in(input), m_devices(devices), m_ways(input.network.infeeds.size()) {}

    /// A column with figures that hangs on an infeed.
    void add(InfeedId infeed, ColumnId column, const Judgement& judgement);
    /// Ratings of the device's own type: absent where its type is not known, a column is undecided,
    /// or no rating of the type does it.
    void settle(InfeedId infeed, InfeedSummary& summary) const;
    /// Margin of a rating at a column's incoming side: Cmin * U0 / Ia over Zs. Absent if the type
    /// has no such rating or its table no current for the limit.
    [[nodiscard]] base::Maybe<base::Number> margin(InfeedId infeed, base::Ampere rating,
                                                   const Side& side,
                                                   const impedance::Source& source) const;

  private:
    struct Sum {
        base::Maybe<base::Ampere> max,
            min;              ///< of the columns: least of the largest, largest needed
        ColumnId cut_out;     ///< with the largest fuse behind it
        bool is_open = false; ///< some column allows none, or is undecided
    };
    [[nodiscard]] const catalogue::FuseType* type_of(InfeedId infeed) const;

    const ReviewInput& m_in;
    protection::Devices& m_devices;
    std::vector<Sum> m_ways; ///< by infeed
};

} // namespace loopwalk::checks
