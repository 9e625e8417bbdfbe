// Whether a layer of another format holds what the finished GeoPackage holds.
#pragma once

#include <ogrsf_frmts.h>

#include "translate.hpp"
#include <string>

namespace loopwalk::gis {

/// Walks through both layers side by side. Empty if every value arrived as far as the format can
/// hold it; else the first that did not: "feature 7, field x: ...".
[[nodiscard]] std::string first_difference(OGRLayer& from, OGRLayer& to,
                                           const FolderFormat& format);

} // namespace loopwalk::gis
