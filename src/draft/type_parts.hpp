// Types of cables that are spread over several fields: CORES, SIZE, ARMOUR. For this folder only.
#pragma once

#include "guess_parts.hpp"

namespace loopwalk::draft {

/// Which fields they are, by name; none unless there is a size and one more.
[[nodiscard]] std::optional<TypeParts> find_type_parts(const std::vector<gis::FieldInfo>& fields,
                                                       const Vocabulary& vocabulary);

/// Joins them for `cable_type` where that says more than any one field.
void join_type_parts(std::vector<FieldGuess>& guesses, const LayerProfile& layer,
                     base::AssetLayer role, const Guides& guides);

/// A joined value as the reader joins it ("2 6 SWA"), and with what the fields add to its meaning
/// ("2c 6mm2 SWA").
struct JoinedType {
    std::string recorded;
    std::string said;
};
[[nodiscard]] JoinedType joined_type(const TypeParts& parts, std::string_view value);

} // namespace loopwalk::draft
