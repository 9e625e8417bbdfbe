// How numbers and ranges of a job are got and set by a row of the key table.
#pragma once

#include "key_table.hpp"

namespace loopwalk::config {

using base::Bounds;
using base::Number;
using base::Quantity;

inline double number_of(double value) {
    return value;
}
template <class Unit>
double number_of(Quantity<Unit> value) {
    return value.value();
}
inline void assign(double& target, double value) {
    target = value;
}
template <class Unit>
void assign(Quantity<Unit>& target, double value) {
    target = Quantity<Unit>(value);
}

inline constexpr Limits kAboveZero{.low = 0.0, .low_open = true};
inline constexpr Limits kNotNegative{.low = 0.0};
inline constexpr Limits kAtLeastOne{.low = 1.0};

template <auto Stage, auto Member>
Slot number(std::string_view unit, Limits limits) {
    return NumberSlot{[](const Job& job) { return number_of((job.*Stage).*Member); },
                      [](Job& job, double value) { assign((job.*Stage).*Member, value); }, unit,
                      limits};
}

template <auto Stage, auto Member>
Slot range(std::string_view unit, Limits limits) {
    return RangeSlot{
        [](const Job& job) {
            const auto& bounds = (job.*Stage).*Member;
            return Bounds<Number>{Number(bounds.low.value()), Number(bounds.high.value())};
        },
        [](Job& job, Bounds<Number> value) {
            auto& bounds = (job.*Stage).*Member;
            assign(bounds.low, value.low.value());
            assign(bounds.high, value.high.value());
        },
        unit, limits};
}

/// The rows of [rules].
[[nodiscard]] std::vector<Key> rule_keys();

} // namespace loopwalk::config
