// Whether all of an opened dataset is there. For this folder only.
#pragma once

#include <gdal_priv.h>

#include "gdal_error_scope.hpp"
#include <string>

namespace loopwalk::gis {

/// Also within an archive.
[[nodiscard]] bool is_folder(const std::string& name);

/// What no driver tells by itself, or tells and goes on: a file that is empty, damaged or cut off,
/// a layer that cannot be opened, a table of contents that is spoilt; empty if there is nothing.
/// `opening` collected what was reported while the dataset was opened.
[[nodiscard]] std::string fault_in_dataset(const std::string& name, GDALDataset& dataset,
                                           const GdalErrorScope& opening);

} // namespace loopwalk::gis
