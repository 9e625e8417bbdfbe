#include "loopwalk/base/text.hpp"

#include "network_findings.hpp"
#include <optional>

namespace loopwalk::checks {

using protection::is_about_rcd;

namespace {

using base::Finding;
using base::Rule;
using base::short_text;

/// Reports what concerns the ways of sources, each at its worst column.
class WayReporter : Reporter {
  public:
    explicit WayReporter(const CheckContext& context) : Reporter(context) {}

    void run() {
        for (std::size_t r = 0; r < m_review.infeeds.size(); ++r) {
            const base::InfeedId id(r);
            if (!m_in.network.way_of(id).has_value()) {
                continue;
            }
            slow_way(id);
            thin_margin(id);
            volt_drop(id);
            load(id);
        }
    }

  private:
    void slow_way(base::InfeedId id);
    [[nodiscard]] std::string cure(base::InfeedId id) const;
    void thin_margin(base::InfeedId id);
    void volt_drop(base::InfeedId id);
    void load(base::InfeedId id);
};

void WayReporter::slow_way(base::InfeedId id) {
    const InfeedSummary& way = m_review.infeeds[id.index()];
    const Verdict verdict = way.slowest_side.verdict;
    if ((verdict != Verdict::fails && verdict != Verdict::undecided) ||
        is_about_rcd(way.slowest_side.reason)) {
        return;
    }
    const bool fails = verdict == Verdict::fails;
    Finding f = m_build.at_column_of_way(Rule::slow_way, id, way.slowest, base::certain_if(fails));
    f.count = way.slow;
    if (way.slowest_side.margin.has_value()) {
        f.value = (*way.slowest_side.margin).value();
        f.limit = 1.0;
    }
    f.message = "Way " + f.way + " of " + f.supply_id +
                (fails ? " is predicted not to meet its limit at " : " cannot be judged at ") +
                std::to_string(*f.count) + (*f.count == 1 ? " column" : " columns") +
                ", worst at " + f.asset_id + ", " + m_explain.side(way.slowest, way.slowest_side) +
                ".";
    if (!fails) {
        base::settle(f, m_explain.settled_by(way.slowest, way.slowest_side));
    }
    base::add_concerns(f, way.slow_columns);
    if (m_judge.devices().is_distributors(way.slowest_side.device)) {
        m_build.advise(f, way.slowest,
                       fails ? "Candidate: a fuse of the council's own where its cable begins; ask "
                               "the distributor what may be changed."
                             : "Record what is missing, or test the loop at the worst column.");
        m_findings.add(std::move(f));
        return;
    }
    m_build.advise(f, way.slowest,
                   fails ? cure(id)
                         : "Record what is missing, or test the loop at the worst column.");
    m_findings.add(std::move(f));
}

/// Names the one rating that clears at every column, where there is one that the load and the
/// cut-outs behind it allow.
std::string WayReporter::cure(base::InfeedId id) const {
    const InfeedSummary& way = m_review.infeeds[id.index()];
    const bool has_one = way.fuse_max.has_value() && way.fuse_min.has_value() &&
                         way.fuse_max_margin.has_value() && *way.fuse_min <= *way.fuse_max;
    if (!has_one) {
        return "No rating of the device's type clears at every column and leaves the load and the "
               "cut-outs behind it. Candidates: a fused joint, or a larger earth path; test the "
               "loop first.";
    }
    return "Candidates: " + short_text((*way.fuse_max).value()) +
           " A of the same type for the whole way (margin " +
           short_text((*way.fuse_max_margin).value(), 3) + " at " +
           m_in.layers.id_text(m_in.layers.columns[way.worst.index()].id) +
           "; inrush is not looked at), a fused joint, or a larger earth path; test the loop "
           "first.";
}

void WayReporter::thin_margin(base::InfeedId id) {
    const InfeedSummary& way = m_review.infeeds[id.index()];
    if (!way.thin_at.is_valid()) {
        return;
    }
    Finding f = m_build.at_column_of_way(Rule::thin_margin, id, way.thin_at);
    f.value = (*way.thin_margin).value();
    f.limit = m_in.rules.thin_margin;
    f.count = way.thin;
    f.message = "Way " + f.way + " of " + f.supply_id +
                " is predicted to meet its limit with a margin of only " + short_text(*f.value, 3) +
                " at " + f.asset_id + ".";
    m_findings.add(std::move(f));
}

void WayReporter::volt_drop(base::InfeedId id) {
    const InfeedSummary& way = m_review.infeeds[id.index()];
    const bool no_solution = m_in.figures.infeeds[id.index()].no_solution;
    if (no_solution) {
        Finding f = m_build.at_way(Rule::volt_drop, id);
        f.limit = m_in.rules.vdrop_pct;
        f.message = "Way " + f.way + " of " + f.supply_id +
                    " cannot carry its recorded load: no voltage satisfies it.";
        f.clause.clear(); // no limit is at stake
        f.fix = "Check load_w and the cables of this way.";
        m_findings.add(std::move(f));
        return;
    }
    if (!way.vdrop_high_pct.has_value() || (*way.vdrop_high_pct).value() <= m_in.rules.vdrop_pct) {
        return;
    }
    Finding f = m_build.at_column_of_way(Rule::volt_drop, id, way.vdrop_at);
    f.value = (*way.vdrop_high_pct).value();
    f.limit = m_in.rules.vdrop_pct;
    const bool sure =
        way.vdrop_low_pct.has_value() && (*way.vdrop_low_pct).value() > m_in.rules.vdrop_pct;
    f.message = "Way " + f.way + " of " + f.supply_id + (sure ? " drops " : " may drop ") +
                short_text(*f.value, 3) + " % of its voltage up to " + f.asset_id + ".";
    m_findings.add(std::move(f));
}

void WayReporter::load(base::InfeedId id) {
    const double watts = m_in.figures.infeeds[id.index()].load.low.value();
    if (watts <= m_in.rules.way_load_w) {
        return;
    }
    Finding f = m_build.at_way(Rule::way_load_over, id);
    f.value = watts;
    f.limit = m_in.rules.way_load_w;
    f.message = "Way " + f.way + " of " + f.supply_id + " carries " + short_text(watts) +
                " W, more than " + short_text(*f.limit) + " W.";
    m_findings.add(std::move(f));
}

} // namespace

void report_ways(const CheckContext& context) {
    WayReporter(context).run();
}

} // namespace loopwalk::checks
