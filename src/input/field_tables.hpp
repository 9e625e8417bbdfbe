// The field table of each layer: see field_reader.hpp.
#pragma once

#include "field_reader.hpp"

namespace loopwalk::input {

template <>
const std::vector<FieldReader<model::Column>>& field_readers();
template <>
const std::vector<FieldReader<model::Cable>>& field_readers();
template <>
const std::vector<FieldReader<model::Supply>>& field_readers();
template <>
const std::vector<FieldReader<model::WayRow>>& field_readers();
template <>
const std::vector<FieldReader<model::Joint>>& field_readers();
template <>
const std::vector<FieldReader<model::Main>>& field_readers();
template <>
const std::vector<FieldReader<model::Termination>>& field_readers();
template <>
const std::vector<FieldReader<model::Load>>& field_readers();
template <>
const std::vector<FieldReader<model::Reading>>& field_readers();

/// What a field may hold: coded words, or a number.
struct AllowedValue {
    std::vector<std::string_view> words; ///< empty: any text
    NumberRule rule = NumberRule::any;
    Holds holds = Holds::plain;
};

/// In the order of contract_fields().
[[nodiscard]] std::vector<AllowedValue> allowed_values(base::AssetLayer layer);

} // namespace loopwalk::input
