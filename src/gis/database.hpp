// A few questions to a database. For this folder only.
#pragma once

#include <gdal_priv.h>

#include <string>

namespace loopwalk::gis {

/// First value of the first row; empty for null. Throws InputError with what the database said.
[[nodiscard]] std::string ask(GDALDataset& database, const std::string& query);

/// The same for every connection to one schema of one running server, another for all others.
[[nodiscard]] std::string schema_identity(GDALDataset& database, const std::string& schema);

} // namespace loopwalk::gis
