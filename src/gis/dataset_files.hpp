// Which files a dataset is made of. For this folder only.
#pragma once

#include "open_parts.hpp"
#include <string>
#include <vector>

namespace loopwalk::gis {

/// Files with anything in them, sorted, each once; GDAL does not list all of them. Empty for a
/// database on a server.
[[nodiscard]] std::vector<std::string> files_behind(const std::string& given,
                                                    const std::vector<DatasetPart>& parts);

} // namespace loopwalk::gis
