// The summary for machines.
#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include "summary_parts.hpp"
#include <nlohmann/json.hpp>

namespace loopwalk::output {
namespace {

using base::Finding;
using protection::FeedKind;
using protection::Verdict;
using Json = nlohmann::ordered_json;

Json column_counts(const Results& r) {
    const auto& totals = r.review.totals;
    Json columns{{"in_service", totals.columns}};
    for (const Verdict v : {Verdict::meets, Verdict::fails, Verdict::undecided, Verdict::not_ours,
                            Verdict::not_traced}) {
        columns["by_verdict"][std::string(verdict_name(v))] =
            totals.by_verdict[static_cast<std::size_t>(v)];
    }
    columns["meets_with_danger_or_fail"] = r.standing.meets_but_bad;
    const auto fed = [&](FeedKind kind) { return totals.by_feed[static_cast<std::size_t>(kind)]; };
    columns["fed_from"] = {{"pillar", fed(FeedKind::pillar)},
                           {"main", fed(FeedKind::main)},
                           {"column", fed(FeedKind::column)},
                           {"several", fed(FeedKind::several)},
                           {"not traced", fed(FeedKind::not_traced)}};
    for (const auto& [basis, count] : main_by_basis(r)) {
        columns["fed_from_main"][basis] = count;
    }
    columns["undecided_because"] = Json::array();
    for (const auto& [reason, count] : undecided_reasons(r)) {
        columns["undecided_because"].push_back({{"reason", reason}, {"columns", count}});
    }
    return columns;
}

Json circuits(const Results& r) {
    const checks::Explainer explain(r.layers(), r.catalogue, r.network, r.trace, r.figures);
    Json all = Json::array();
    for (const base::InfeedId id : worst_circuits(r)) {
        const checks::InfeedSummary& infeed = r.review.infeeds[id.index()];
        const auto& margin = infeed.worst_side.margin;
        all.push_back(
            {{"infeed", explain.infeed_name(id)},
             {"supply_id", explain.supply_name(id)},
             {"way", explain.way_name(id)},
             {"columns", r.figures.infeeds[id.index()].columns},
             {"margin", margin.has_value() ? Json((*margin).value()) : Json()},
             {"verdict", verdict_name(infeed.worst_side.verdict)},
             {"worst_id", r.layers().id_text(r.layers().columns[infeed.worst.index()].id)},
             {"why", explain.side(infeed.worst, infeed.worst_side)}});
    }
    return all;
}

Json findings(const Results& r) {
    Json found{{"total", r.findings.all().size()}, {"by_rule", Json::array()}};
    for (const auto& [key, count] : finding_counts(r)) {
        found["by_rule"].push_back(
            {{"severity", base::severity_name(key.first)}, {"rule", key.second}, {"count", count}});
    }
    return found;
}

Json fix_first(const Results& r) {
    Json first = Json::array();
    for (const Urgent& urgent : urgent_findings(r)) {
        const Finding& f = *urgent.finding;
        first.push_back({{"severity", base::severity_name(f.severity)},
                         {"rule", base::rule_name(f.rule)},
                         {"asset_layer", base::layer_name(f.layer)},
                         {"asset_id", f.asset_id},
                         {"message", f.message},
                         {"fix", f.fix.empty() ? Json() : Json(f.fix)},
                         {"more_of_rule", urgent.more}});
    }
    return first;
}

Json survey(const Results& r) {
    Json rows = Json::array();
    for (const survey::SurveyRow* row : survey_first(r)) {
        rows.push_back({{"asset_layer", base::layer_name(row->layer)},
                        {"asset_id", row->word.empty() ? Json(row->asset_id) : Json()},
                        {"attribute", row->attribute},
                        {"word", row->word.empty() ? Json() : Json(row->word)},
                        {"assets", row->assets},
                        {"verdicts_settled", row->settled},
                        {"verdicts_touched", row->touched}});
    }
    return rows;
}

Json layers_read(const Results& r) {
    Json layers = Json::array();
    for (const input::LayerRead& layer : r.read.read) {
        layers.push_back({{"layer", base::layer_name(layer.layer)},
                          {"dataset", layer.dataset},
                          {"name", layer.name},
                          {"features", layer.features},
                          {"system", layer.system.empty() ? Json() : Json(layer.system)}});
    }
    return layers;
}

} // namespace

std::string summary_json(const Results& results, const std::string& output) {
    const Json summary{{"program", "loopwalk " + std::string(base::program_version())},
                       {"output", output},
                       {"part", results.read.part.empty() ? Json() : Json(results.read.part)},
                       {"layers", layers_read(results)},
                       {"columns", column_counts(results)},
                       {"worst_circuits", circuits(results)},
                       {"findings", findings(results)},
                       {"look_first", fix_first(results)},
                       {"survey_first", survey(results)},
                       {"cautions", cautions()}};
    // Records may hold bytes that are no UTF-8: they become U+FFFD rather than an error.
    return summary.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace loopwalk::output
