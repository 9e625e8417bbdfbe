// What is wrong with a feature, kept in a few bytes until the order of the layer is known: only
// then is it clear at which asset a finding stands.
#pragma once

#include "loopwalk/base/id.hpp"

#include <cstdint>

namespace loopwalk::input {

enum class IssueKind : std::uint8_t {
    not_recorded,      ///< a needed field is null
    no_number,         ///< text where a number should stand
    ambiguous_number,  ///< "1,200": two numbers
    other_unit,        ///< a number with a unit of another kind
    out_of_range,      ///< a number that cannot be
    unknown_reference, ///< an id that no asset has
    unclear_reference, ///< an id that assets of several layers have
    unknown_word,      ///< a word that the contract does not have
    no_geometry,
    empty_geometry,
    not_finite,
    no_coordinate, ///< `text`: what stands in a field for a coordinate, if anything
    wrong_kind,
    several_points,
    cannot_transform,
    zero_length, ///< `number`: parts without length
    at_origin,   ///< at 0,0 of the layer's own system
    // Used, but not as a program would write it; `number` is what was read.
    with_unit,     ///< "12.5 m"
    decimal_comma, ///< "12,5"
    grouped,       ///< "1 200"
};

struct Issue {
    std::uint32_t feature = 0; ///< n-th feature of the file
    std::uint8_t field = 0;    ///< position in contract_fields()
    IssueKind kind{};
    base::TextId text;   ///< the offending text, if there is one
    base::TextId other;  ///< the id that an unknown reference may mean
    double number = 0.0; ///< the offending number, if there is one
};

} // namespace loopwalk::input
