// Text files that the program writes beside its layers.
#pragma once

#include "loopwalk/gis/output.hpp"

#include <string>
#include <vector>

namespace loopwalk::app {

/// What would make write_text_file() fail, before any work is done. Throws OutputError: exists
/// without `overwrite`, is a folder, is one of `inputs`, its folder is missing.
void check_text_target(const std::string& path, gis::Overwrite overwrite,
                       const std::vector<std::string>& inputs);

/// Whole or not at all: written beside the target and renamed. Throws OutputError.
void write_text_file(const std::string& path, const std::string& text);

} // namespace loopwalk::app
