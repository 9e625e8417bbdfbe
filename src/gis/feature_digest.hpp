// What a feature holds, as a number: to tell whether what was written is what stands in the file.
#pragma once

#include <ogrsf_frmts.h>

#include <cstdint>

namespace loopwalk::gis {

/// Of id, fields and geometry, after what a GeoPackage may change without harm: the width of
/// integers, the sign of zero, NaN (null there), the time zone in which a moment is written. The
/// sum over the features of a layer does not depend on their order.
[[nodiscard]] std::uint64_t digest_of(const OGRFeature& feature);

} // namespace loopwalk::gis
