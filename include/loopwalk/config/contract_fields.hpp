// The layers and fields that the program knows, under their native names: what the job file may
// refer to and what the reader looks for. Docs: docs/job_file.md.
#pragma once

#include "loopwalk/base/finding.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loopwalk::config {

/// Where nearly all numbers of a field lie, in its native unit. Ours, wide: they tell units and
/// fields apart and judge no record.
struct Usual {
    double low = 0.0, high = 0.0; ///< in the field's native unit
};

/// A field that the layers may have.
struct FieldRule {
    std::string name;           ///< its ending is the unit: base::unit_of_field()
    bool needed = false;        ///< a layer without it cannot be read
    bool is_number = false;     ///< else a text or coded word
    std::optional<Usual> usual; ///< of a number
};

/// Fields of a layer, needed ones first.
[[nodiscard]] const std::vector<FieldRule>& contract_fields(base::AssetLayer layer);

} // namespace loopwalk::config
