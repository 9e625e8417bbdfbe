#include "allowed_sources.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <string_view>

namespace loopwalk::gis {
namespace {

/// Formats that are files, and PostGIS, whose server keeps a session from writing.
constexpr std::array kRecords{"ESRI Shapefile",
                              "MapInfo File",
                              "GPKG",
                              "SQLite",
                              "CSV",
                              "GeoJSON",
                              "GeoJSONSeq",
                              "ESRIJSON",
                              "TopoJSON",
                              "GML",
                              "KML",
                              "LIBKML",
                              "GPX",
                              "FlatGeobuf",
                              "DXF",
                              "DGN",
                              "XLSX",
                              "XLS",
                              "ODS",
                              "OpenFileGDB",
                              "PGeo",
                              "PostgreSQL",
                              "UK .NTF",
                              "S57",
                              "TIGER",
                              "AVCBin",
                              "AVCE00",
                              "VFK",
                              "SXF",
                              "EDIGEO",
                              "OGR_GMT",
                              "JML",
                              "MapML",
                              "MVT",
                              "Geoconcept",
                              "GeoRSS",
                              "Interlis 1",
                              "Interlis 2",
                              "NAS",
                              "SOSI",
                              "LVBAG",
                              "OSM",
                              "Idrisi",
                              "VDV",
                              "Parquet",
                              "Arrow",
                              "CAD",
                              "GPSBabel",
                              "JSONFG",
                              "PMTiles",
                              "MiraMonVector"};
constexpr std::array kVirtual{"OGR_VRT", "GMLAS", "Memory"};
constexpr std::array kNetwork{"WFS",          "OAPIF",      "CSW",     "Elasticsearch",
                              "Carto",        "AmigoCloud", "MySQL",   "ODBC",
                              "MSSQLSpatial", "PLSCENES",   "OGR_OGDI"};

/// Folders of GDAL's own that lie in a file; all others are addresses or memory.
constexpr std::array<std::string_view, 5> kFolders{"/vsizip/", "/vsigzip/", "/vsitar/", "/vsi7z/",
                                                   "/vsirar/"};

/// Options that tell how records are to be read, of all drivers.
constexpr std::array<std::string_view, 44> kOptions{"X_POSSIBLE_NAMES",
                                                    "Y_POSSIBLE_NAMES",
                                                    "Z_POSSIBLE_NAMES",
                                                    "GEOM_POSSIBLE_NAMES",
                                                    "KEEP_GEOM_COLUMNS",
                                                    "KEEP_SOURCE_COLUMNS",
                                                    "AUTODETECT_TYPE",
                                                    "AUTODETECT_WIDTH",
                                                    "AUTODETECT_SIZE_LIMIT",
                                                    "QUOTED_FIELDS_AS_STRING",
                                                    "EMPTY_STRING_AS_NULL",
                                                    "MERGE_SEPARATOR",
                                                    "SEPARATOR",
                                                    "HEADERS",
                                                    "FIELD_TYPES",
                                                    "ENCODING",
                                                    "DBF_ENCODING",
                                                    "ADJUST_TYPE",
                                                    "ADJUST_GEOM_TYPE",
                                                    "FLATTEN_NESTED_ATTRIBUTES",
                                                    "NESTED_ATTRIBUTE_SEPARATOR",
                                                    "ARRAY_AS_STRING",
                                                    "DATE_AS_STRING",
                                                    "SWAP_COORDINATES",
                                                    "INVERT_AXIS_ORDER_IF_LAT_LONG",
                                                    "CONSIDER_EPSG_AS_URN",
                                                    "EXPOSE_FID",
                                                    "EXPOSE_GML_ID",
                                                    "LIST_ALL_TABLES",
                                                    "TABLES",
                                                    "SCHEMAS",
                                                    "ACTIVE_SCHEMA",
                                                    "DBNAME",
                                                    "HOST",
                                                    "PORT",
                                                    "USER",
                                                    "PASSWORD",
                                                    "SERVICE",
                                                    "CLOSED_LINE_AS_POLYGON",
                                                    "INLINE_BLOCKS",
                                                    "MERGE_BLOCK_GEOMETRIES",
                                                    "READ_MODE",
                                                    "VERIFY_BUFFERS",
                                                    "IMMUTABLE"};

constexpr std::string_view kSources = "SOURCES";

std::string key_of(const std::string& option) {
    return option.substr(0, option.find('='));
}

[[noreturn]] void refuse(const std::string& name, const std::string& what,
                         const std::string& word) {
    throw base::ConfigError(
        "dataset \"" + base::without_passwords(name) + "\" " + what +
        ", which is only opened where the job says so: open_options = { SOURCES = \"" + word +
        "\" }");
}

/// Each `/vsi...` in a name: they may be put into one another.
bool is_elsewhere(const std::string& name) {
    for (std::size_t at = name.find("/vsi"); at != std::string::npos;
         at = name.find("/vsi", at + 1)) {
        const std::string_view rest = std::string_view(name).substr(at);
        if (std::none_of(kFolders.begin(), kFolders.end(),
                         [&](std::string_view folder) { return rest.starts_with(folder); })) {
            return true;
        }
    }
    return false;
}

bool is_address(const std::string& name) {
    return name.find("://") != std::string::npos && !name.starts_with("PG:") &&
           !name.starts_with("postgres");
}

} // namespace

bool is_own_option(const std::string& option) {
    return base::same_word(key_of(option), kSources);
}

Sources checked_sources(const std::string& name, const std::vector<std::string>& options) {
    Sources allowed;
    for (const std::string& option : options) {
        if (is_own_option(option)) {
            allowed.virtual_layers = option.find("virtual") != std::string::npos;
            allowed.network = option.find("network") != std::string::npos;
        }
    }
    if (!allowed.network && (is_elsewhere(name) || is_address(name))) {
        refuse(name, "is an address of the network", "network");
    }
    if (!allowed.virtual_layers && name.find('<') == 0) {
        refuse(name, "is a virtual source", "virtual");
    }
    for (const std::string& option : options) {
        const std::string key = key_of(option);
        const bool is_known =
            is_own_option(option) ||
            std::any_of(kOptions.begin(), kOptions.end(),
                        [&](std::string_view known) { return base::same_word(known, key); });
        if (!is_known) {
            throw base::ConfigError("open_options of dataset \"" + base::without_passwords(name) +
                                    "\": " + key +
                                    " is none of the options that tell how records are read "
                                    "(docs/security.md)");
        }
    }
    return allowed;
}

CPLStringList drivers_of(Sources allowed) {
    CPLStringList drivers;
    for (const char* driver : kRecords) {
        drivers.AddString(driver);
    }
    if (allowed.virtual_layers) {
        for (const char* driver : kVirtual) {
            drivers.AddString(driver);
        }
    }
    if (allowed.network) {
        for (const char* driver : kNetwork) {
            drivers.AddString(driver);
        }
    }
    return drivers;
}

void make_sessions_read_only() {
    const char* given = std::getenv("PGOPTIONS"); // NOLINT(concurrency-mt-unsafe): at the start
    const std::string options = (given == nullptr ? std::string() : std::string(given) + " ") +
                                "-c default_transaction_read_only=on";
    ::setenv("PGOPTIONS", options.c_str(), 1); // NOLINT(concurrency-mt-unsafe)
}

void refuse_statements(const std::string& where) {
    bool in_quotes = false;
    char quote = '\0';
    // Servers have quotes of their own with these signs, in which ours would be read otherwise.
    const bool is_tricky = where.find_first_of("\\$") != std::string::npos ||
                           where.find("/*") != std::string::npos ||
                           where.find("--") != std::string::npos;
    for (const char letter : where) {
        if (letter == ';' && (!in_quotes || is_tricky)) {
            throw base::ConfigError("the filter \"" + where +
                                    "\" holds a semicolon, which may begin another statement. "
                                    "Write the condition alone");
        }
        if (in_quotes ? letter == quote : letter == '\'' || letter == '"') {
            in_quotes = !in_quotes;
            quote = letter;
        }
    }
}

} // namespace loopwalk::gis
