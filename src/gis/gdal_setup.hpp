// GDAL's drivers and PROJ's database, looked at on the first use of this folder.
#pragma once

namespace loopwalk::gis {

/// Registers the drivers at the first call. Call it before anything else of GDAL.
void ensure_gdal();

/// Throws InputError if PROJ cannot read its database of coordinate systems, naming its folder and
/// how it came to be chosen. Without it systems would still be joined, by up to some hundred metres
/// wrong.
void must_have_systems();

} // namespace loopwalk::gis
