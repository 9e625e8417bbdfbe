// Test readings against the limits of a column's devices (method.md section 11).
#pragma once

#include "loopwalk/base/grouped.hpp"
#include "loopwalk/protection/judgement.hpp"

#include <span>

namespace loopwalk::protection {

class Readings {
  public:
    explicit Readings(const model::Layers& layers);

    /// Rows of `readings` taken at a column.
    [[nodiscard]] std::span<const std::uint32_t> of(base::ColumnId id) const {
        return m_rows.of(id);
    }
    /// A reading that breaks the limit makes that side fail whatever is predicted; a low one proves
    /// nothing. What was predicted stays beside it.
    void apply(base::ColumnId id, Side& in, Side& out) const;

  private:
    const model::Layers& m_layers;
    base::Grouped<base::ColumnId> m_rows;
};

} // namespace loopwalk::protection
