#include "gdal_setup.hpp"

#include "loopwalk/gis/dataset.hpp"

#include <gdal.h>
#include <geos_c.h>
#include <proj.h>
#include <sqlite3.h>

#include "gdal_error_scope.hpp"

namespace loopwalk::gis {

void ensure_gdal() {
    static const bool registered = [] {
        const GdalErrorScope quiet; // a plugin that cannot be loaded is no concern of ours
        GDALAllRegister();
        return true;
    }();
    static_cast<void>(registered);
}

std::vector<std::string> library_versions() {
    const std::string geos = GEOSversion(); // "3.11.1-CAPI-1.17.1"
    return {std::string("GDAL ") + GDALVersionInfo("RELEASE_NAME"),
            "GEOS " + geos.substr(0, geos.find('-')), std::string("PROJ ") + proj_info().version,
            std::string("SQLite ") + sqlite3_libversion()};
}

} // namespace loopwalk::gis
