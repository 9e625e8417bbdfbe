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

} // namespace loopwalk::input
