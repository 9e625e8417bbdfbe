// What may be opened: the formats, addresses and options of drivers that records are kept in.
// docs/security.md.
#pragma once

#include <cpl_string.h>

#include <string>
#include <vector>

namespace loopwalk::gis {

/// What a name may stand for beside files and PostGIS: said by the option SOURCES of the dataset.
struct Sources {
    bool virtual_layers = false; ///< "virtual": sources that name other sources and statements
    bool network = false;        ///< "network": addresses, and databases other than PostGIS
};

/// What the options say, once name and options are seen to agree with it. Throws ConfigError: an
/// address of the network or a virtual source that is not allowed; an option that is none of those
/// that tell how records are to be read.
[[nodiscard]] Sources checked_sources(const std::string& name,
                                      const std::vector<std::string>& options);
/// Whether the option is for this program, not for GDAL.
[[nodiscard]] bool is_own_option(const std::string& option);
/// The drivers that GDAL may try.
[[nodiscard]] CPLStringList drivers_of(Sources allowed);
/// Has every session of a database that this process begins be read-only, by the server. Whoever
/// writes says so to the server.
void make_sessions_read_only();
/// Throws ConfigError for a filter that holds a second statement, or may hold one: it is passed to
/// a database as it is.
void refuse_statements(const std::string& where);

} // namespace loopwalk::gis
