#include "dataset_files.hpp"

#include <cpl_string.h>

#include "gdal_error_scope.hpp"
#include "same_place.hpp"
#include <algorithm>
#include <filesystem>

namespace loopwalk::gis {

namespace fs = std::filesystem;

std::vector<std::string> files_behind(const std::string& given,
                                      const std::vector<DatasetPart>& parts) {
    const GdalErrorScope quiet;
    std::vector<std::string> files;
    for (const DatasetPart& part : parts) {
        const CPLStringList listed(part.dataset->GetFileList());
        for (int i = 0; i < listed.Count(); ++i) {
            files.emplace_back(listed[i]);
        }
        files.push_back(part.dataset.get_deleter().path);
    }
    std::error_code unreadable; // then the opening has failed already
    const bool any = std::any_of(files.begin(), files.end(), [&](const std::string& file) {
        return fs::is_regular_file(file, unreadable);
    });
    if (!any && fs::is_directory(given, unreadable)) { // a folder of CSV files
        for (const fs::directory_entry& entry : fs::directory_iterator(given, unreadable)) {
            files.push_back(entry.path().string());
        }
    }
    files.push_back(given);
    std::transform(files.begin(), files.end(), files.begin(), file_behind);
    for (std::size_t i = files.size(); i > 0; --i) {
        files.push_back(files[i - 1] + "-wal"); // commits that are not yet in the file itself
    }
    for (const char* sidecar : {"csvt", "prj", "cpg", "gfs", "xsd"}) {
        files.push_back(fs::path(given).replace_extension(sidecar).string());
    }
    std::erase_if(files, [](const std::string& file) {
        std::error_code error;
        return !fs::is_regular_file(file, error) || fs::file_size(file, error) == 0;
    });
    std::sort(files.begin(), files.end());
    files.erase(std::unique(files.begin(), files.end()), files.end());
    return files;
}

} // namespace loopwalk::gis
