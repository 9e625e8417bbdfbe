// Findings about one column at a time.
#pragma once

#include "loopwalk/checks/review.hpp"

namespace loopwalk::checks {

class ColumnFindings {
  public:
    ColumnFindings(const ReviewInput& input, Judge& judge, base::FindingSink& findings)
        : m_in(input), m_judge(judge), m_findings(findings),
          m_explain(input.layers, input.catalogue, input.network, input.trace, input.figures) {}

    void report(ColumnId id, const Judgement& judgement);

  private:
    [[nodiscard]] base::Finding finding(base::Rule rule, base::Severity severity,
                                        ColumnId id) const;
    void slow_cut_out(ColumnId id, const Judgement& judgement);
    void breaking(ColumnId id, const Judgement& judgement);
    void equipment(ColumnId id);
    void load(ColumnId id);
    void label(ColumnId id);
    void reading(ColumnId id, const Judgement& judgement, const model::Reading& row);
    void main_fuse_only(ColumnId id, const Judgement& judgement);

    const ReviewInput& m_in;
    Judge& m_judge;
    base::FindingSink& m_findings;
    Explainer m_explain;
};

} // namespace loopwalk::checks
