// GDAL's drivers, registered once, on the first use of this folder.
#pragma once

namespace loopwalk::gis {

/// Registers the drivers at the first call. Call it before anything else of GDAL.
void ensure_gdal();

} // namespace loopwalk::gis
