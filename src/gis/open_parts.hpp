// Opening what a name stands for. For this folder only.
#pragma once

#include <gdal_priv.h>

#include "log_guard.hpp"
#include <memory>
#include <string>
#include <vector>

namespace loopwalk::gis {

/// Closes a dataset so that its files stay as they are.
struct CloseInput {
    std::string path;
    std::shared_ptr<LogGuard> guard; ///< null where the file had no log when it was opened
    void operator()(GDALDataset* dataset) const noexcept;
};

using InputDataset = std::unique_ptr<GDALDataset, CloseInput>;

/// One of the GDAL datasets behind a name.
struct DatasetPart {
    InputDataset dataset;
    std::string stem; ///< of its file, where a folder of such files was named; else empty
};

/// "PG:dbname=x", "/vsizip/...": a connection string rather than a path.
[[nodiscard]] bool is_connection(const std::string& name);

/// Read-only: a file, a folder, a connection, a zip archive of any of them (`a.zip`), or a folder
/// of files that hold a layer each (GeoJSON and the like, which GDAL opens one by one). Throws
/// InputError that says what GDAL found wrong and what to do, ConfigError for an option that the
/// driver does not know.
[[nodiscard]] std::vector<DatasetPart> open_parts(const std::string& given,
                                                  const std::vector<std::string>& options);

} // namespace loopwalk::gis
