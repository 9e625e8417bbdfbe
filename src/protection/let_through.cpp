#include "loopwalk/protection/let_through.hpp"

#include <algorithm>
#include <limits>

namespace loopwalk::protection {
namespace {

using base::Ampere;
using base::AmpereSquaredSecond;
using base::Second;
using catalogue::CurvePoint;
using Curve = std::vector<CurvePoint>;

/// The adiabatic equation holds up to 5 s (BS 7671 reg 434.5.2).
constexpr Second kAdiabaticEnd{5.0};
constexpr double kUnbounded = std::numeric_limits<double>::infinity();

double heat(Ampere current, Second time) {
    return current.value() * current.value() * time.value();
}

bool is_adiabatic(const catalogue::OperatingTime& time) {
    return time.state == catalogue::TimeState::clears && time.time <= kAdiabaticEnd;
}

/// At a current above the largest of the table. The time is at most the table's shortest. A
/// cartridge fuse lets less through at a larger current: with every gG rating of IEC 60269 the
/// largest operating I2t lies below that at the gate of 0.1 s.
double most_above(const DeviceChoice& choice, const CurvePoint& last, Ampere current) {
    const double by_time = heat(current, last.time);
    if (choice.total_i2t.has_value()) {
        return std::min(by_time, (*choice.total_i2t).value());
    }
    return choice.is_current_limiting ? heat(last.current, last.time) : by_time;
}

double most(const DeviceChoice& choice, const Curve& slow, Ampere current) {
    return current > slow.back().current ? most_above(choice, slow.back(), current)
                                         : heat(current, catalogue::slow_time(slow, current).time);
}

/// Between tabulated points I2t is straight in log-log, so its extremes lie at points or ends.
double most_between(const DeviceChoice& choice, const Curve& slow, Ampere lowest, Ampere highest) {
    double worst = std::max(most(choice, slow, lowest), most(choice, slow, highest));
    for (const CurvePoint& point : slow) {
        if (point.current > lowest && point.current <= highest) {
            worst = std::max(worst, heat(point.current, point.time));
        }
    }
    return worst;
}

/// What certainly passes: nothing where the time is only bounded from above.
double least(const DeviceChoice& choice, const Curve& early, Ampere current) {
    if (current <= early.back().current) {
        return heat(current, catalogue::slow_time(early, current).time);
    }
    if (choice.edges.is_own && choice.total_i2t.has_value()) {
        return most_above(choice, early.back(), current);
    }
    return choice.prearcing_i2t.value_or(base::Number(0.0)).value();
}

double least_between(const DeviceChoice& choice, Ampere lowest, Ampere highest) {
    if (choice.edges.early == nullptr) {
        return 0.0;
    }
    const Curve& early = *choice.edges.early;
    if (!is_adiabatic(catalogue::slow_time(early, lowest))) {
        return 0.0;
    }
    double best = std::min(least(choice, early, lowest), least(choice, early, highest));
    for (const CurvePoint& point : early) {
        if (point.current > lowest && point.current < highest) {
            best = std::min(best, heat(point.current, point.time));
        }
    }
    return best;
}

LetThrough of_choice(const DeviceChoice& choice, Ampere lowest, Ampere highest) {
    LetThrough passed;
    passed.low = AmpereSquaredSecond(least_between(choice, lowest, highest));
    passed.high = AmpereSquaredSecond(kUnbounded);
    if (choice.edges.late == nullptr) {
        passed.ambiguity = LetThroughAmbiguity::device_unknown;
        return passed;
    }
    const Curve& slow = *choice.edges.late;
    if (!is_adiabatic(catalogue::slow_time(slow, lowest))) {
        passed.ambiguity = LetThroughAmbiguity::too_long;
        return passed;
    }
    passed.high = AmpereSquaredSecond(most_between(choice, slow, lowest, highest));
    if (highest > slow.back().current && !choice.total_i2t.has_value()) {
        passed.ambiguity = LetThroughAmbiguity::above_table;
    }
    return passed;
}

} // namespace

LetThrough let_through(const DeviceChoices& device, Ampere lowest, Ampere highest) {
    if (device.any_of.empty()) {
        return {AmpereSquaredSecond(0.0), AmpereSquaredSecond(kUnbounded),
                LetThroughAmbiguity::device_unknown};
    }
    LetThrough widest = of_choice(device.any_of.front(), lowest, highest);
    for (std::size_t i = 1; i < device.any_of.size(); ++i) {
        const LetThrough one = of_choice(device.any_of[i], lowest, highest);
        widest.low = std::min(widest.low, one.low);
        if (one.high > widest.high || widest.ambiguity == LetThroughAmbiguity::none) {
            widest.ambiguity = one.ambiguity;
        }
        widest.high = std::max(widest.high, one.high);
    }
    return widest;
}

} // namespace loopwalk::protection
