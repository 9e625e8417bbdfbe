#include "open_parts.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"
#include "loopwalk/gis/interrupt.hpp"

#include <cpl_string.h>
#include <cpl_vsi.h>

#include "file_checks.hpp"
#include "gdal_error_scope.hpp"
#include "sqlite_input.hpp"
#include "whole_dataset.hpp"
#include <algorithm>
#include <array>
#include <filesystem>
#include <string_view>
#include <unistd.h>

namespace loopwalk::gis {

namespace {

namespace fs = std::filesystem;

/// Files of a folder that are layers by themselves.
constexpr std::array<std::string_view, 5> kLayerFiles = {"geojson", "geojsonl", "gpkg", "gml",
                                                         "kml"};

bool exists(const std::string& name) {
    std::error_code unused;
    return fs::exists(name, unused);
}

[[noreturn]] void cannot_open(const std::string& name, const std::string& why) {
    throw base::InputError("cannot open dataset \"" + base::without_passwords(name) +
                           "\": " + base::without_passwords(why));
}

[[noreturn]] void explain_failure(const std::string& name, const std::string& gdal) {
    if (!is_connection(name) && !exists(name)) {
        cannot_open(name, "there is no such file or folder. Check the path");
    }
    if (exists(name) && ::access(name.c_str(), R_OK) != 0) {
        cannot_open(name, "no permission to read it. Ask for read access");
    }
    std::error_code none;
    if (fs::exists(name + "-journal", none) && fs::file_size(name + "-journal", none) > 0) {
        cannot_open(name, gdal + ". A program was stopped while it wrote: \"" +
                              fs::path(name).filename().string() +
                              "-journal\" undoes that. Open the file in a program that may write "
                              "it, or take a copy of both there");
    }
    if (name.starts_with("PG:")) {
        cannot_open(name, gdal + ". Check that the server runs, the name of the database and the "
                                 "right to connect; a password may stand in ~/.pgpass");
    }
    cannot_open(name, gdal + ". Give a vector dataset that GDAL " +
                          GDALVersionInfo("RELEASE_NAME") +
                          " can read; if it is one, it is "
                          "damaged: restore or export it anew");
}

CPLStringList options_for(const std::string& name, const std::vector<std::string>& options) {
    CPLStringList list;
    for (const std::string& option : options) {
        list.AddString(option.c_str());
    }
    const char* extension = CPLGetExtension(name.c_str());
    if (EQUAL(extension, "gml") || EQUAL(extension, "xml")) {
        list.SetNameValue("WRITE_GFS", "NO"); // else GDAL leaves a file beside the input
    }
    return list;
}

/// Null where GDAL does not take it.
InputDataset try_open(const std::string& name, const std::vector<std::string>& options) {
    CloseInput close{name, LogGuard::of(name)};
    GDALDataset* opened =
        GDALDataset::Open(name.c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR,
                          nullptr, options_for(name, options).List(), nullptr);
    return {opened, std::move(close)};
}

/// GDAL only warns of an option that it does not know.
void check_options(const std::string& name, const std::vector<std::string>& options,
                   const std::string& said) {
    if (!options.empty() && said.find("open option") != std::string::npos) {
        throw base::ConfigError("open_options of dataset \"" + base::without_passwords(name) +
                                "\": " + base::without_passwords(said));
    }
}

std::vector<std::string> layer_files(const std::string& folder) {
    std::vector<std::string> files;
    const CPLStringList entries(VSIReadDir(folder.c_str()));
    for (int i = 0; i < entries.Count(); ++i) {
        const std::string extension = base::folded(CPLGetExtension(entries[i]));
        if (std::find(kLayerFiles.begin(), kLayerFiles.end(), extension) != kLayerFiles.end() &&
            entries[i][0] != '.') {
            files.emplace_back(CPLFormFilename(folder.c_str(), entries[i], nullptr));
        }
    }
    std::sort(files.begin(), files.end());
    return files;
}

/// A dataset of files that was opened: all of it can be read.
void check_file_dataset(const std::string& name, GDALDataset& dataset,
                        const GdalErrorScope& errors) {
    if (errors.text().find("IMMUTABLE") != std::string::npos && LogGuard::has_commits(name)) {
        cannot_open(name, "commits in \"" + fs::path(name).filename().string() +
                              "-wal\" cannot be read in a folder that is read-only: copy both "
                              "files to another");
    }
    heed_stops(dataset);
    const std::string fault = fault_in_dataset(name, dataset, errors);
    if (!fault.empty()) {
        cannot_open(name, fault + ". The file may be damaged: restore or export it anew" +
                              (is_folder(name) ? ", or take it out of the folder" : ""));
    }
}

std::vector<DatasetPart> open_folder(const std::vector<std::string>& files,
                                     const std::vector<std::string>& options) {
    std::vector<DatasetPart> parts;
    for (const std::string& file : files) {
        const GdalErrorScope errors;
        DatasetPart part{try_open(file, options), fs::path(file).stem().string()};
        if (part.dataset == nullptr) {
            explain_failure(file, errors.text());
        }
        check_options(file, options, errors.text());
        check_file_dataset(file, *part.dataset, errors);
        parts.push_back(std::move(part));
    }
    return parts;
}

/// A database: this connection never writes, a table is read from its start each time, and all of
/// the run sees the records of one moment.
void settle_session(GDALDataset& dataset, const std::string& name) {
    const GdalErrorScope errors;
    for (const char* statement :
         {"SET synchronize_seqscans = off", "SET default_transaction_read_only = on",
          "SET default_transaction_isolation = 'repeatable read'"}) {
        dataset.ReleaseResultSet(dataset.ExecuteSQL(statement, nullptr, nullptr));
    }
    if (errors.failed() || dataset.StartTransaction(FALSE) != OGRERR_NONE) {
        cannot_open(name, "the session cannot be set up for reading: " + errors.text());
    }
}

} // namespace

void CloseInput::operator()(GDALDataset* dataset) const noexcept {
    const GdalErrorScope quiet; // read-only: nothing can be lost by closing
    // A log that came meanwhile is another program's.
    const std::shared_ptr<LogGuard> late = guard == nullptr ? LogGuard::of(path) : guard;
    GDALClose(dataset);
}

bool is_connection(const std::string& name) {
    return name.starts_with("/vsi") || (name.find(':') != std::string::npos && !exists(name));
}

std::vector<DatasetPart> open_parts(const std::string& given,
                                    const std::vector<std::string>& options) {
    if (const std::string fault = fault_of_kind(given); !fault.empty()) {
        cannot_open(given, fault);
    }
    const bool is_archive = EQUAL(CPLGetExtension(given.c_str()), "zip") && exists(given);
    const std::string name = is_archive ? "/vsizip/" + given : given;
    const GdalErrorScope errors;
    std::vector<DatasetPart> parts(1);
    parts.front().dataset = try_open(name, options);
    stop_if_asked();
    if (parts.front().dataset == nullptr) {
        const std::vector<std::string> files =
            is_folder(name) ? layer_files(name) : std::vector<std::string>();
        if (files.empty()) {
            explain_failure(given, errors.text());
        }
        return open_folder(files, options);
    }
    check_options(given, options, errors.text());
    GDALDataset& dataset = *parts.front().dataset;
    if (EQUAL(dataset.GetDriverName(), "PostgreSQL")) {
        settle_session(dataset, given);
    } else {
        check_file_dataset(name, dataset, errors);
        if (exists(given) && dataset.GetLayerCount() == 0) {
            cannot_open(given, "it holds no vector layers");
        }
    }
    return parts;
}

} // namespace loopwalk::gis
