// What a database holds of a layer, against the layer.
#pragma once

#include <ogrsf_frmts.h>

#include "finish_output.hpp"
#include <string>
#include <vector>

namespace loopwalk::gis {

/// What differs between the features of the two, in words that follow "table ..."; empty if nothing
/// does. All of id, geometry, texts, whole numbers and moments is the same; of other numbers the
/// fifteen digits that GDAL writes.
[[nodiscard]] std::string difference_of_rows(OGRLayer& written, OGRLayer& there);

/// Cuts the names of columns in the finished staging that are longer than a database keeps: left to
/// the server, GDAL would not find their values again. Gives sentences on them. Throws OutputError
/// naming `given` where two of a table would be the same.
[[nodiscard]] std::vector<std::string>
cut_names(const std::string& given, const std::string& staging, const OutputLayers& layers);

/// Of names: bytes that PostgreSQL keeps.
inline constexpr std::size_t kLongestDatabaseName = 63;

} // namespace loopwalk::gis
