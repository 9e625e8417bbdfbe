#include "loopwalk/base/text.hpp"

#include "network_findings.hpp"
#include <optional>

namespace loopwalk::checks {

using protection::is_about_rcd;

namespace {

using base::Finding;
using base::Rule;
using base::Severity;
using base::short_text;

/// Reports what concerns the ways of sources, each at its worst column.
class WayReporter {
  public:
    WayReporter(const ReviewInput& input, const Review& review, base::FindingSink& findings)
        : m_in(input), m_review(review), m_findings(findings),
          m_explain(input.layers, input.catalogue, input.network, input.trace, input.figures) {}

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
    [[nodiscard]] Finding at_column(Rule rule, Severity severity, base::InfeedId infeed,
                                    ColumnId worst) const;
    [[nodiscard]] Finding at_supply(Rule rule, Severity severity, base::InfeedId infeed) const;
    void slow_way(base::InfeedId id);
    void thin_margin(base::InfeedId id);
    void volt_drop(base::InfeedId id);
    void load(base::InfeedId id);

    const ReviewInput& m_in;
    const Review& m_review;
    base::FindingSink& m_findings;
    Explainer m_explain;
};

Finding WayReporter::at_supply(Rule rule, Severity severity, base::InfeedId infeed) const {
    const base::SupplyId supply = *m_in.network.supply_of(infeed);
    Finding f;
    f.rule = rule;
    f.severity = severity;
    f.layer = base::AssetLayer::supplies;
    f.supply_id = m_explain.supply_name(infeed);
    f.asset_id = f.supply_id;
    f.way = m_explain.way_name(infeed);
    f.place = m_in.layers.supplies[supply.index()].place;
    return f;
}

Finding WayReporter::at_column(Rule rule, Severity severity, base::InfeedId infeed,
                               ColumnId worst) const {
    Finding f = at_supply(rule, severity, infeed);
    const model::Column& column = m_in.layers.columns[worst.index()];
    f.layer = base::AssetLayer::columns;
    f.asset_id = m_in.layers.id_text(column.id);
    f.place = column.place;
    return f;
}

void WayReporter::slow_way(base::InfeedId id) {
    const InfeedSummary& way = m_review.infeeds[id.index()];
    const Verdict verdict = way.slowest_side.verdict;
    if ((verdict != Verdict::fails && verdict != Verdict::undecided) ||
        is_about_rcd(way.slowest_side.reason)) {
        return;
    }
    const bool fails = verdict == Verdict::fails;
    Finding f =
        at_column(Rule::slow_way, fails ? Severity::fail : Severity::warning, id, way.slowest);
    f.count = way.slow;
    if (way.slowest_side.margin.has_value()) {
        f.value = (*way.slowest_side.margin).value();
        f.limit = 1.0;
        f.unit = "margin";
    }
    f.message = "Way " + f.way + " of " + f.supply_id +
                (fails ? " is predicted not to meet its limit at " : " cannot be judged at ") +
                std::to_string(*f.count) + (*f.count == 1 ? " column" : " columns") +
                ", worst at " + f.asset_id + ", " + m_explain.side(way.slowest, way.slowest_side) +
                ".";
    if (!fails) {
        const std::string settles = m_explain.settled_by(way.slowest, way.slowest_side);
        f.message += settles.empty() ? "" : " It would be settled by " + settles + ".";
    }
    f.clause = "BS 7671:2018+A2 reg 714.411.202 (5 s) and 411.4.4";
    if (m_in.layers.columns[way.slowest.index()].owner == model::Owner::council) {
        f.fix = fails ? "Candidates: a smaller way fuse, a fused joint, or a larger earth path; "
                        "test the loop first."
                      : "Record what is missing, or test the loop at the worst column.";
    }
    m_findings.add(std::move(f));
}

void WayReporter::thin_margin(base::InfeedId id) {
    const InfeedSummary& way = m_review.infeeds[id.index()];
    if (!way.thin_at.is_valid()) {
        return;
    }
    Finding f = at_column(Rule::thin_margin, Severity::note, id, way.thin_at);
    f.value = (*way.thin_margin).value();
    f.limit = m_in.rules.thin_margin;
    f.count = way.thin;
    f.unit = "margin";
    f.message = "Way " + f.way + " of " + f.supply_id + " meets its limit with a margin of only " +
                short_text(*f.value, 3) + " at " + f.asset_id + ".";
    m_findings.add(std::move(f));
}

void WayReporter::volt_drop(base::InfeedId id) {
    const InfeedSummary& way = m_review.infeeds[id.index()];
    const bool no_solution = m_in.figures.infeeds[id.index()].no_solution;
    if (no_solution) {
        Finding f = at_supply(Rule::volt_drop, Severity::warning, id);
        f.limit = m_in.rules.vdrop_pct;
        f.unit = "%";
        f.message = "Way " + f.way + " of " + f.supply_id +
                    " cannot carry its recorded load: no voltage satisfies it.";
        f.fix = "Check load_w and the cables of this way.";
        m_findings.add(std::move(f));
        return;
    }
    if (!way.vdrop_high_pct.has_value() || (*way.vdrop_high_pct).value() <= m_in.rules.vdrop_pct) {
        return;
    }
    Finding f = at_column(Rule::volt_drop, Severity::warning, id, way.vdrop_at);
    f.value = (*way.vdrop_high_pct).value();
    f.limit = m_in.rules.vdrop_pct;
    f.unit = "%";
    const bool sure =
        way.vdrop_low_pct.has_value() && (*way.vdrop_low_pct).value() > m_in.rules.vdrop_pct;
    f.message = "Way " + f.way + " of " + f.supply_id + (sure ? " drops " : " may drop ") +
                short_text(*f.value, 3) + " % of its voltage up to " + f.asset_id + ".";
    f.clause = "BS 7671:2018+A2 appendix 4 section 6.4";
    m_findings.add(std::move(f));
}

void WayReporter::load(base::InfeedId id) {
    const double watts = m_in.figures.infeeds[id.index()].load.low.value();
    if (watts <= m_in.rules.way_load_w) {
        return;
    }
    Finding f = at_supply(Rule::way_load_over, Severity::warning, id);
    f.value = watts;
    f.limit = m_in.rules.way_load_w;
    f.unit = "W";
    f.message = "Way " + f.way + " of " + f.supply_id + " carries " + short_text(watts) +
                " W, more than " + short_text(*f.limit) + " W.";
    f.clause = "unmetered supplies, common practice; varies by distributor";
    m_findings.add(std::move(f));
}

} // namespace

void report_ways(const ReviewInput& input, const Review& review, base::FindingSink& findings) {
    WayReporter(input, review, findings).run();
}

} // namespace loopwalk::checks
