#include "whole_dataset.hpp"

#include <cpl_string.h>
#include <cpl_vsi.h>
#include <ogrsf_frmts.h>

#include "file_checks.hpp"
#include "sqlite_input.hpp"
#include <filesystem>
#include <vector>

namespace loopwalk::gis {

namespace {

/// Makes the driver look at each layer, since some do only when asked: what it cannot read, by
/// layer; empty if nothing. A coordinate system is another matter: the job may state it.
std::string fault_in_layers(GDALDataset& dataset) {
    const GdalErrorScope opening;
    const int count = dataset.GetLayerCount();
    if (opening.failed()) {
        return opening.text();
    }
    for (int i = 0; i < count; ++i) {
        const GdalErrorScope errors;
        OGRLayer* layer = dataset.GetLayer(i);
        const bool is_there = layer != nullptr && layer->GetLayerDefn() != nullptr;
        if (!is_there || errors.failed()) {
            return "layer " + (layer != nullptr ? layer->GetName() : std::to_string(i)) + ": " +
                   errors.text();
        }
    }
    return {};
}

/// The files of the dataset, also those of a folder of CSV files, which GDAL does not list.
std::vector<std::string> files_of(const std::string& name, GDALDataset& dataset) {
    const GdalErrorScope quiet; // looks at coordinate systems too
    const CPLStringList listed(dataset.GetFileList());
    std::vector<std::string> files(listed.List(), listed.List() + listed.Count());
    if (is_folder(name)) {
        const CPLStringList entries(VSIReadDir(name.c_str()));
        for (int i = 0; i < entries.Count(); ++i) {
            files.emplace_back(CPLFormFilename(name.c_str(), entries[i], nullptr));
        }
    }
    return files;
}

} // namespace

bool is_folder(const std::string& name) {
    VSIStatBufL status;
    return VSIStatL(name.c_str(), &status) == 0 && VSI_ISDIR(status.st_mode);
}

std::string fault_in_dataset(const std::string& name, GDALDataset& dataset,
                             const GdalErrorScope& opening) {
    const std::string reported = opening.failed() ? opening.text() : fault_in_layers(dataset);
    for (const std::string& file : files_of(name, dataset)) {
        if (const std::string fault = fault_in_file(file); !fault.empty()) {
            return "file \"" + std::filesystem::path(file).filename().string() + "\": " + fault;
        }
    }
    if (!reported.empty()) {
        return (is_folder(name) ? "a file in it cannot be read: " : "") + reported;
    }
    return fault_in_contents(dataset);
}

} // namespace loopwalk::gis
