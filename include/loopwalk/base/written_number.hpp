// Numbers as people type them into text fields: with a unit, a decimal comma, groups of thousands.
// What could mean two numbers is told apart from what is none, and never guessed.
#pragma once

#include "loopwalk/base/unit.hpp"

#include <cstdint>
#include <string_view>

namespace loopwalk::base {

/// How a dataset writes decimals.
enum class DecimalMark : std::uint8_t {
    unstated, ///< a point; a comma where it cannot be anything else
    point,    ///< commas group thousands
    comma,    ///< points group thousands
};

/// What a text says as a number.
struct WrittenNumber {
    /// Whether it is one.
    enum class State : std::uint8_t {
        none,      ///< no number
        ambiguous, ///< "1,200": 1.2 or 1200
        number,
    };
    State state = State::none;  ///< only a `number` has a value
    double value = 0.0;         ///< in `unit`, or as it stands if there is none
    const Unit* unit = nullptr; ///< null: none written
    bool has_comma = false;     ///< its decimal mark is a comma
    bool has_groups = false;    ///< its thousands are set apart
};

/// Reads the whole text as one number, with or without a unit of measure behind it. Strand sizes
/// ("7/.036") are areas in mm2. "approx. 12", "10-12", ">5" are none.
[[nodiscard]] WrittenNumber read_written_number(std::string_view text,
                                                DecimalMark mark = DecimalMark::unstated);

} // namespace loopwalk::base
