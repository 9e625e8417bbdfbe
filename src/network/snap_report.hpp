// Findings of the snapping stage: one for each rule and cable.
#pragma once

#include "snap_work.hpp"
#include <optional>

namespace loopwalk::network::snapping {

/// loose-end and near-miss. Ends are to come by cable.
class LooseEndReport {
  public:
    explicit LooseEndReport(const Work& work) : m_work(work) {}
    /// `gap`: what the end misses, if anything lies within reach.
    void add(CableId cable, Point2 place, const std::optional<Gap>& gap,
             base::FindingSink& findings);
    /// Reports the last cable.
    void finish(base::FindingSink& findings);

  private:
    const Work& m_work;
    CableId m_cable;
    std::int64_t m_loose = 0;
    std::int64_t m_missing = 0;
    Point2 m_loose_place; // of the first
    Gap m_nearest;
};

} // namespace loopwalk::network::snapping
