#include "loopwalk/protection/discrimination.hpp"

#include <cmath>

namespace loopwalk::protection {
namespace {

double rounded_to_tenth(double ratio) {
    return std::round(ratio * 10.0) / 10.0;
}

Discrimination of_pair(const DeviceChoice& lower, const DeviceChoice& upper,
                       const config::Rules& rules) {
    Discrimination result;
    if (lower.total_i2t.has_value() && upper.prearcing_i2t.has_value()) {
        result.by_i2t = true;
        result.ratio = *upper.prearcing_i2t / *lower.total_i2t;
        result.needed = 1.0;
        result.verdict = result.ratio >= 1.0 ? Discriminates::yes : Discriminates::no;
        return result;
    }
    result.ratio = upper.rating / lower.rating;
    if (lower.type != upper.type || lower.type == nullptr ||
        lower.type->kind != catalogue::FuseKind::fuse) {
        return result;
    }
    result.needed = lower.is_gg ? rules.discrimination_gg_ratio : rules.discrimination_other_ratio;
    const bool holds = rounded_to_tenth(result.ratio) >= result.needed;
    result.verdict = holds ? Discriminates::yes : Discriminates::no;
    return result;
}

} // namespace

Discrimination discrimination(const DeviceChoices& lower, const DeviceChoices& upper,
                              const config::Rules& rules) {
    Discrimination worst;
    bool is_first = true;
    bool all_alike = true;
    for (const DeviceChoice& below : lower.any_of) {
        for (const DeviceChoice& above : upper.any_of) {
            const Discrimination pair = of_pair(below, above, rules);
            all_alike = all_alike && (is_first || pair.verdict == worst.verdict);
            if (is_first || pair.share() < worst.share()) {
                worst = pair;
            }
            is_first = false;
        }
    }
    if (!all_alike) {
        worst.verdict = Discriminates::undecided;
    }
    return worst;
}

} // namespace loopwalk::protection
