#include "gdal_setup.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/dataset.hpp"

#include <gdal.h>
#include <geos_c.h>
#include <ogr_spatialref.h>
#include <proj.h>
#include <sqlite3.h>

#include "allowed_sources.hpp"
#include "gdal_error_scope.hpp"
#include "memory_watch.hpp"
#include <cstdlib>

namespace loopwalk::gis {

namespace {

/// For what GDAL says outside of our calls.
void CPL_STDCALL note_and_show(CPLErr level, CPLErrorNum number, const char* message) {
    if (number == CPLE_OutOfMemory) {
        note_memory_refused();
    }
    end_if_fatal(level);
    CPLDefaultErrorHandler(level, number, message);
}

} // namespace

void ensure_gdal() {
    static const bool registered = [] {
        watch_memory();
        make_sessions_read_only();
        CPLSetErrorHandler(note_and_show);
        const GdalErrorScope quiet; // a plugin that cannot be loaded is no concern of ours
        GDALAllRegister();
        return true;
    }();
    static_cast<void>(registered);
}

namespace {

/// The folder that the environment names for PROJ, in words.
std::string folder_of_proj() {
    for (const char* variable : {"PROJ_DATA", "PROJ_LIB"}) { // the first goes before the second
        if (const char* folder = std::getenv(variable); folder != nullptr && *folder != '\0') {
            return std::string("the folder that ") + variable + " names, \"" + folder + "\"";
        }
    }
    return "its own folder";
}

std::string fault_of_systems() {
    const GdalErrorScope errors;
    OGRSpatialReference any;
    return any.importFromEPSG(4326) == OGRERR_NONE ? std::string() : errors.text();
}

} // namespace

void must_have_systems() {
    static const std::string fault = fault_of_systems();
    if (!fault.empty()) {
        throw base::InputError("PROJ cannot read its database of coordinate systems (proj.db) in " +
                               folder_of_proj() + ": " + fault +
                               ". Unset PROJ_DATA and PROJ_LIB, or name the folder of the proj.db "
                               "that belongs to PROJ " +
                               proj_info().version);
    }
}

std::vector<std::string> library_versions() {
    const std::string geos = GEOSversion(); // "3.11.1-CAPI-1.17.1"
    return {std::string("GDAL ") + GDALVersionInfo("RELEASE_NAME"),
            "GEOS " + geos.substr(0, geos.find('-')), std::string("PROJ ") + proj_info().version,
            std::string("SQLite ") + sqlite3_libversion()};
}

} // namespace loopwalk::gis
