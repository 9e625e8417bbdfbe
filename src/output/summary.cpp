#include "loopwalk/output/summary.hpp"

#include "loopwalk/base/text.hpp"

#include "summary_parts.hpp"
#include <algorithm>
#include <map>
#include <tuple>

namespace loopwalk::output {
namespace {

using base::Finding;
using base::short_text;
using protection::FeedKind;
using protection::Verdict;

std::string padded(std::string text, std::size_t width) {
    text.resize(std::max(text.size(), width), ' ');
    return text;
}

std::string right(const std::string& text, std::size_t width) {
    return text.size() >= width ? text : std::string(width - text.size(), ' ') + text;
}

std::string verdict_words(Verdict verdict) {
    switch (verdict) {
    case Verdict::meets:
        return "predicted to meet";
    case Verdict::fails:
        return "predicted not to meet";
    case Verdict::undecided:
        return "cannot be judged";
    case Verdict::not_traced:
    case Verdict::not_ours:
    case Verdict::none:
        break;
    }
    return std::string(verdict_name(verdict));
}

std::string count_line(const std::string& what, std::uint32_t count) {
    return "  " + padded(what, 24) + right(std::to_string(count), 9) + "\n";
}

std::string layer_table(const Results& r) {
    std::string text = "Layers read\n";
    for (const input::LayerRead& layer : r.read.read) {
        text += "  " + padded(std::string(base::layer_name(layer.layer)), 14) + layer_text(layer) +
                "\n";
    }
    return text;
}

std::string verdict_table(const Results& r) {
    const auto& totals = r.review.totals;
    const auto of = [&](Verdict v) { return totals.by_verdict[static_cast<std::size_t>(v)]; };
    std::string text = "Columns in service: " + std::to_string(totals.columns) + "\n";
    text += count_line(verdict_words(Verdict::meets), of(Verdict::meets));
    if (r.standing.meets_but_bad > 0) {
        text += count_line("  but with a finding", r.standing.meets_but_bad);
        text += "    (danger or fail of another kind: see lw_worst)\n";
    }
    text += count_line(verdict_words(Verdict::fails), of(Verdict::fails));
    text += count_line(verdict_words(Verdict::undecided), of(Verdict::undecided));
    text += count_line("not ours", of(Verdict::not_ours));
    const std::uint32_t untraced = of(Verdict::not_traced);
    text += count_line("not traced", untraced);
    if (untraced > 0) {
        text += "  (not traced: no source was found in the records, treat as live)\n";
    }
    return text;
}

std::string feed_table(const Results& r) {
    const auto& totals = r.review.totals;
    const auto of = [&](FeedKind k) { return totals.by_feed[static_cast<std::size_t>(k)]; };
    std::string text = "Fed from\n";
    text += count_line("pillar", of(FeedKind::pillar));
    text += count_line("main", of(FeedKind::main));
    for (const auto& [basis, count] : main_by_basis(r)) {
        text += count_line("  " + basis, count);
    }
    text += count_line("column", of(FeedKind::column));
    text += count_line("several", of(FeedKind::several));
    text += count_line("not traced", of(FeedKind::not_traced));
    return text;
}

std::string undecided_table(const Results& r) {
    std::string text;
    for (const auto& [reason, count] : undecided_reasons(r)) {
        text += right(std::to_string(count), 7) + "  " + reason + "\n";
    }
    return text.empty() ? text : "Undecided because\n" + text;
}

std::string circuit_table(const Results& r) {
    const checks::Explainer explain(r.layers(), r.catalogue, r.network, r.trace, r.figures);
    const auto worst = worst_circuits(r);
    if (worst.empty()) {
        return {};
    }
    std::string text = "Worst circuits by disconnection margin (1 or more meets the limit)\n";
    text += "  " + padded("supply/way", 20) + padded("columns", 9) + padded("margin", 8) +
            padded("verdict", 23) + "worst column, and why\n";
    for (const base::InfeedId id : worst) {
        const checks::InfeedSummary& infeed = r.review.infeeds[id.index()];
        const std::string margin = infeed.worst_side.margin.has_value()
                                       ? base::fixed_text((*infeed.worst_side.margin).value(), 2)
                                       : "-";
        text += "  " + padded(explain.infeed_name(id), 20) +
                padded(std::to_string(r.figures.infeeds[id.index()].columns), 9) +
                padded(margin, 8) + padded(verdict_words(infeed.worst_side.verdict), 23) +
                r.layers().id_text(r.layers().columns[infeed.worst.index()].id) + " " +
                explain.side(infeed.worst, infeed.worst_side) + "\n";
    }
    return text;
}

std::string finding_counts_text(const Results& r) {
    std::string text = "Findings: " + std::to_string(r.findings.all().size()) + "\n";
    for (const auto& [key, count] : finding_counts(r)) {
        text += "  " + padded(std::string(base::severity_name(key.first)), 9) +
                padded(key.second, 24) + right(std::to_string(count), 7) + "\n";
    }
    return text;
}

std::string survey_table(const Results& r) {
    std::string text;
    for (const survey::SurveyRow* row : survey_first(r)) {
        const std::string what =
            row->word.empty() ? row->asset_id
                              : "\"" + row->word + "\" (" + std::to_string(row->assets) + ")";
        text += "  " + padded(std::string(base::layer_name(row->layer)) + " " + what, 40) +
                padded(row->attribute, 16) + right(std::to_string(row->settled), 7) + "\n";
    }
    return text.empty() ? text
                        : "Survey first: missing attributes, and verdicts each settles\n" + text;
}

std::string fix_first(const Results& r) {
    std::string text;
    std::size_t shown = 0;
    for (const Urgent& urgent : urgent_findings(r)) {
        const Finding& f = *urgent.finding;
        text += "  " + std::to_string(++shown) + ". " + f.message + "\n";
        text += f.fix.empty() ? "" : "     " + f.fix + "\n";
        if (urgent.more > 0) {
            text += "     And " + std::to_string(urgent.more) + " more " +
                    std::string(base::rule_name(f.rule)) + " (see findings).\n";
        }
    }
    const auto ranked = trace::rank_gaps(r.layers(), r.network, r.trace);
    if (!ranked.empty() && ranked.front().would_feed > 0) {
        const network::Gap& gap = r.network.snapped.gaps[ranked.front().gap];
        text +=
            "  Gaps in the records: closing the one of " + short_text(gap.distance_m, 3) +
            " m at " + node_name(r.layers(), r.network.snapped.nodes[gap.from.index()]) +
            " would feed " + std::to_string(ranked.front().would_feed) +
            (ranked.front().would_feed == 1 ? " column (see gaps).\n" : " columns (see gaps).\n");
    }
    return text.empty() ? text : "Look at first\n" + text;
}

} // namespace

std::string summary_text(const Results& results) {
    std::string text;
    if (!results.read.part.empty()) {
        text += "Only a part of the records was read: " + results.read.part +
                ".\nCircuits that leave it look untraced or end early.\n\n";
    }
    for (const std::string& part :
         {verdict_table(results), feed_table(results), undecided_table(results),
          circuit_table(results), finding_counts_text(results), survey_table(results),
          fix_first(results), layer_table(results)}) {
        text += part.empty() ? "" : part + "\n";
    }
    text += "Cautions\n";
    for (const std::string& caution : cautions()) {
        text += "  " + caution + "\n";
    }
    return text;
}

} // namespace loopwalk::output
