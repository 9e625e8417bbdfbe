// What the summaries for people and for machines both tell.
#pragma once

#include "loopwalk/output/summary.hpp"

#include <map>
#include <utility>

namespace loopwalk::output {

constexpr std::size_t kWorstCircuits = 10;
constexpr std::size_t kFirstFixes = 10;
constexpr std::size_t kFirstOfRule = 2;
constexpr std::size_t kFirstSurveys = 5;

/// Which layer it is, how many features were read and in which system, in words.
[[nodiscard]] std::string layer_text(const input::LayerRead& layer);

/// Ways of sources with a judged side, worst verdict first, then smallest margin, then by name; at
/// most kWorstCircuits.
[[nodiscard]] std::vector<base::InfeedId> worst_circuits(const Results& r);

/// Columns fed from a main, by how that is known: traced, stated, nearest main.
[[nodiscard]] std::vector<std::pair<std::string, std::uint32_t>> main_by_basis(const Results& r);

/// Why columns are undecided, most columns first.
[[nodiscard]] std::vector<std::pair<std::string, std::uint32_t>>
undecided_reasons(const Results& r);

/// Number of findings by severity and rule.
[[nodiscard]] std::map<std::pair<base::Severity, std::string>, std::size_t>
finding_counts(const Results& r);

/// A finding to look at first, and how many of its rule are not among those shown.
struct Urgent {
    const base::Finding* finding = nullptr;
    std::size_t more = 0; ///< of the last one shown of its rule; else 0
};
/// The first findings of danger and failure, kFirstFixes at most and few of one rule: a thousand
/// alike must not hide what else there is.
[[nodiscard]] std::vector<Urgent> urgent_findings(const Results& r);

/// The first kFirstSurveys missing attributes that settle a verdict.
[[nodiscard]] std::vector<const survey::SurveyRow*> survey_first(const Results& r);

} // namespace loopwalk::output
