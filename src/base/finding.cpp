#include "loopwalk/base/finding.hpp"

#include <algorithm>
#include <compare>
#include <tuple>

namespace loopwalk::base {

namespace {

/// A total order, also for what is not a number: broken geometry must not break the sort.
struct TotalOrder {
    std::optional<double> value;
    friend std::strong_ordering operator<=>(TotalOrder a, TotalOrder b) noexcept {
        if (!a.value || !b.value) {
            return a.value.has_value() <=> b.value.has_value();
        }
        return std::strong_order(*a.value, *b.value);
    }
    [[maybe_unused]] friend bool operator==(TotalOrder a, TotalOrder b) noexcept {
        return (a <=> b) == 0;
    }
};

TotalOrder x_of(const Finding& f) {
    return {f.place ? std::optional(f.place->x) : std::nullopt};
}

TotalOrder y_of(const Finding& f) {
    return {f.place ? std::optional(f.place->y) : std::nullopt};
}

auto leading_key(const Finding& f) {
    return std::tuple(f.severity, f.rule, f.layer, std::string_view{f.asset_id}, x_of(f), y_of(f));
}

/// Decides between findings of one rule at one asset, so that no two different rows tie.
auto trailing_key(const Finding& f) {
    return std::tuple(std::string_view{f.supply_id}, std::string_view{f.way}, TotalOrder{f.value},
                      TotalOrder{f.limit}, std::string_view{f.unit}, f.count,
                      std::string_view{f.message}, std::string_view{f.clause},
                      std::string_view{f.fix});
}

} // namespace

Finding finding_of(Rule rule, Certainty certainty) {
    const RuleRow& row = row_of(rule);
    Finding finding;
    finding.rule = rule;
    finding.severity = certainty == Certainty::certain || row.severity == Severity::note
                           ? row.severity
                           : Severity::warning;
    finding.unit = row.unit;
    finding.clause = row.clause;
    return finding;
}

void settle(Finding& finding, std::string_view what) {
    if (!what.empty()) {
        finding.message.append(" It would be settled by ").append(what).append(".");
    }
}

void FindingList::add(Finding finding) {
    if (!finding.value.has_value() && !finding.limit.has_value()) {
        finding.unit.clear();
    }
    m_findings.push_back(std::move(finding));
}

void FindingList::sort() {
    std::stable_sort(m_findings.begin(), m_findings.end(), [](const Finding& a, const Finding& b) {
        const auto order = leading_key(a) <=> leading_key(b);
        return order != 0 ? order < 0 : trailing_key(a) < trailing_key(b);
    });
}

} // namespace loopwalk::base
