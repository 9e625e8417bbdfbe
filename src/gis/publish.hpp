// The last step: what is finished gets its name.
#pragma once

#include "loopwalk/gis/result_files.hpp"

#include <functional>
#include <string>

namespace loopwalk::gis {

/// Holds off refuse_publishing() while `step` runs, then counts `given` among the published
/// results. Throws Interrupted if publishing is refused already, and what `step` throws.
void publish_as(const std::string& given, const std::function<void()>& step);

/// Renames; without `overwrite` nothing that stands at `to` is replaced, also not what came a
/// moment ago. Folders of both kinds change places, so `from` may still exist afterwards. Then
/// syncs the folder. Throws OutputError naming `given`.
void give_name(const std::string& given, const std::string& from, const std::string& to,
               Overwrite overwrite);

} // namespace loopwalk::gis
