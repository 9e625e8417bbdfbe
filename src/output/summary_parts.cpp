#include "summary_parts.hpp"

#include <algorithm>
#include <array>
#include <tuple>

namespace loopwalk::output {

using protection::FeedBasis;
using protection::Verdict;

std::string layer_text(const input::LayerRead& layer) {
    std::string text = layer.name + " of " + layer.short_dataset + ": ";
    text += std::to_string(layer.features) + (layer.features == 1 ? " feature" : " features");
    if (!layer.system.empty()) {
        text += ", coordinate system " + layer.system;
    }
    return text;
}

/// Ways of sources with a judged side, worst verdict first, then smallest margin, then by name.
std::vector<base::InfeedId> worst_circuits(const Results& r) {
    std::vector<std::tuple<Verdict, double, std::size_t>> keys;
    for (std::size_t i = 0; i < r.network.infeeds.size(); ++i) {
        const checks::InfeedSummary& infeed = r.review.infeeds[i];
        const Verdict verdict = infeed.worst_side.verdict;
        if (verdict <= Verdict::meets) {
            const double margin = infeed.worst_side.margin.value_or(base::Number(0.0)).value();
            keys.emplace_back(verdict, margin, i);
        }
    }
    std::ranges::sort(keys);
    std::vector<base::InfeedId> worst;
    for (const auto& key : keys) {
        if (worst.size() == kWorstCircuits) {
            break;
        }
        worst.emplace_back(std::get<2>(key));
    }
    return worst;
}

std::vector<std::pair<std::string, std::uint32_t>> main_by_basis(const Results& r) {
    constexpr std::array kBases{std::pair("traced", FeedBasis::traced),
                                std::pair("stated", FeedBasis::stated),
                                std::pair("nearest main", FeedBasis::nearest_main)};
    std::vector<std::pair<std::string, std::uint32_t>> counts;
    counts.reserve(kBases.size());
    for (const auto& [name, basis] : kBases) {
        counts.emplace_back(name,
                            r.review.totals.main_by_basis.at(static_cast<std::size_t>(basis)));
    }
    return counts;
}

std::vector<std::pair<std::string, std::uint32_t>> undecided_reasons(const Results& r) {
    std::vector<std::pair<std::string, std::uint32_t>> reasons;
    for (const auto& [reason, count] : r.review.totals.undecided) {
        reasons.emplace_back(reason == protection::Reason::none
                                 ? "ways of different phases are joined, as recorded"
                                 : checks::Explainer::reason(reason),
                             count);
    }
    std::ranges::stable_sort(reasons, std::greater(), &decltype(reasons)::value_type::second);
    return reasons;
}

std::map<std::pair<base::Severity, std::string>, std::size_t> finding_counts(const Results& r) {
    std::map<std::pair<base::Severity, std::string>, std::size_t> counts;
    for (const base::Finding& f : r.findings.all()) {
        ++counts[{f.severity, std::string(base::rule_name(f.rule))}];
    }
    return counts;
}

std::vector<Urgent> urgent_findings(const Results& r) {
    std::vector<Urgent> urgent;
    std::map<base::Rule, std::size_t> shown;
    for (const base::Finding& f : r.findings.all()) { // sorted by severity
        if (f.severity > base::Severity::fail) {
            break;
        }
        if (shown[f.rule] < kFirstOfRule && urgent.size() < kFirstFixes) {
            ++shown[f.rule];
            urgent.push_back({&f, 0});
        } else if (shown[f.rule] > 0) {
            const auto last =
                std::ranges::find_if(urgent.rbegin(), urgent.rend(),
                                     [&f](const Urgent& u) { return u.finding->rule == f.rule; });
            ++last->more;
        }
    }
    return urgent;
}

std::vector<const survey::SurveyRow*> survey_first(const Results& r) {
    std::vector<const survey::SurveyRow*> first;
    for (const survey::SurveyRow& row : r.survey) {
        if (row.settled == 0 || first.size() == kFirstSurveys) {
            break;
        }
        first.push_back(&row);
    }
    return first;
}

} // namespace loopwalk::output
