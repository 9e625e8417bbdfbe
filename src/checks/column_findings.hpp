// Findings about one column at a time.
#pragma once

#include "finding_builder.hpp"

namespace loopwalk::checks {

class ColumnFindings : Reporter {
  public:
    explicit ColumnFindings(const CheckContext& context) : Reporter(context) {}

    void report(ColumnId id, const Judgement& judgement);

  private:
    void slow_cut_out(ColumnId id, const Judgement& judgement);
    void breaking(ColumnId id, const Judgement& judgement);
    void equipment(ColumnId id);
    void load(ColumnId id);
    void label(ColumnId id);
    void over_limit(ColumnId id, const Judgement& judgement, const model::Reading& row);
    void reading(ColumnId id, const Judgement& judgement, const model::Reading& row);
};

} // namespace loopwalk::checks
