// What GDAL does not look at in an SQLite file that it reads. For this folder only.
#pragma once

#include <gdal_priv.h>

#include <string>

namespace loopwalk::gis {

/// Lets queries end when the user asks to stop. Nothing happens if the dataset is no SQLite file.
void heed_stops(GDALDataset& dataset);

/// What is wrong with the tables that tell the layers of a GeoPackage and their coordinate systems;
/// empty if nothing is. GDAL passes over a layer whose row there is damaged.
[[nodiscard]] std::string fault_in_contents(GDALDataset& dataset);

/// What is wrong with the spatial index of a layer of a GeoPackage, by which a box is looked up;
/// empty if nothing is, or there is none. Costs a pass through the index.
[[nodiscard]] std::string fault_in_index(GDALDataset& dataset, const std::string& layer);

/// The number of a coordinate system that a layer of a GeoPackage names but the file does not tell,
/// in words; empty if there is none.
[[nodiscard]] std::string untold_system(GDALDataset& dataset, const std::string& layer);

} // namespace loopwalk::gis
