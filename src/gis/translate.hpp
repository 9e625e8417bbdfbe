// Turning a finished GeoPackage into another format with GDAL's own translation.
#pragma once

#include <gdal_priv.h>

#include "finish_output.hpp"
#include <string>
#include <vector>

namespace loopwalk::gis {

/// One of the formats that are folders of files.
struct FolderFormat {
    const char* ending = nullptr; ///< of the folder's name: ".shp"
    const char* driver = nullptr;
    const char* file_ending = nullptr; ///< one file for each layer; null: the driver makes them all
    std::vector<const char*> options;  ///< of the translation
    std::vector<const char*> endings;  ///< of the files it makes; empty: whatever the driver likes
    std::size_t longest_name = 0;      ///< of a field; 0: no limit
    std::size_t longest_text = 0;      ///< in bytes; 0: no limit
    const char* losses = nullptr;      ///< what it cannot hold whatever the records; null: nothing
};
/// By the ending of a path, without case; null if it is none of them.
[[nodiscard]] const FolderFormat* folder_format(const std::string& path);
/// ".shp, .geojson, ...": for messages.
[[nodiscard]] std::string folder_endings();

/// Translates the named layers (all if none is named) with the options of ogr2ogr. `target` is a
/// path that does not exist yet, or null for `open`. Throws OutputError naming `given`.
void translate(const std::string& given, GDALDataset& from, const std::vector<std::string>& layers,
               const std::vector<std::string>& options, const char* target, GDALDataset* open);

/// Makes the folder with everything in it and compares the counts. Tells what could not be held.
[[nodiscard]] std::vector<std::string>
translate_to_folder(const std::string& given, const std::string& staging, const std::string& folder,
                    const FolderFormat& format, const OutputLayers& layers);

} // namespace loopwalk::gis
