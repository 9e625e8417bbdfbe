// The last steps of an output: spatial indexes, then a look at the closed file from outside.
#pragma once

#include "output_layer.hpp"
#include <memory>
#include <string>
#include <vector>

namespace loopwalk::gis {

using OutputLayers = std::vector<std::unique_ptr<OutputLayer>>;

/// Packs the spatial index of every layer that wants one into the closed file. Throws OutputError.
void write_spatial_indexes(const std::string& path, OutputLayers& layers);

/// Reopens the file through GDAL and SQLite and compares layers, columns, values, geometries and
/// index rows with what was written, and `header` with what header_query() gives now. Throws
/// OutputError, Interrupted.
void verify_output(const std::string& path, const OutputLayers& layers, const std::string& header);

} // namespace loopwalk::gis
