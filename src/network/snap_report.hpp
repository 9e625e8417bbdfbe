// Findings of the snapping stage: one for each rule and cable.
#pragma once

#include "snap_work.hpp"

namespace loopwalk::network::snapping {

/// near-miss. Ends are to come by cable.
class NearMissReport {
  public:
    explicit NearMissReport(const Work& work) : m_work(work) {}
    /// `gap`: what an end of the cable misses.
    void add(CableId cable, const Gap& gap, base::FindingSink& findings);
    /// Reports the last cable.
    void finish(base::FindingSink& findings);

  private:
    const Work& m_work;
    CableId m_cable;
    std::int64_t m_missing = 0;
    Gap m_nearest;
};

} // namespace loopwalk::network::snapping
