// The layers and fields that the program knows, under their native names: what the job file may
// refer to and what the reader looks for. Docs: docs/job_file.md.
#pragma once

#include "loopwalk/base/finding.hpp"

#include <string>
#include <vector>

namespace loopwalk::config {

struct FieldRule {
    std::string name;
    bool needed = false;
    bool is_number = false;
};

/// Fields of a layer, needed ones first.
[[nodiscard]] const std::vector<FieldRule>& contract_fields(base::AssetLayer layer);

} // namespace loopwalk::config
