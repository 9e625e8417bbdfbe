#include "file_checks.hpp"

#include "loopwalk/base/text.hpp"

#include <cpl_vsi.h>

#include "gdal_error_scope.hpp"
#include "text_file_check.hpp"
#include "vsi_input.hpp"
#include <algorithm>
#include <array>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <limits>
#include <string_view>
#include <vector>

namespace loopwalk::gis {

namespace {

namespace fs = std::filesystem;

/// Of Shapefiles, MapInfo tables, FlatGeobuf and databases.
constexpr std::array<std::string_view, 8> kNeverEmpty = {"shp", "shx", "dbf",  "tab",
                                                         "dat", "fgb", "gpkg", "sqlite"};

template <std::size_t N>
bool is_one_of(const std::array<std::string_view, N>& endings, std::string_view ending) {
    return std::find(endings.begin(), endings.end(), ending) != endings.end();
}

bool may_never_end(const fs::path& path) {
    std::error_code none;
    const fs::file_type type = fs::status(path, none).type();
    return type == fs::file_type::fifo || type == fs::file_type::character ||
           type == fs::file_type::block;
}

bool has_stem_of(const fs::path& path, const fs::path& other) {
    return base::folded(path.stem().string()) == base::folded(other.stem().string());
}

/// One number of a header, low byte first.
std::uint32_t number_at(const std::array<unsigned char, 32>& header, std::size_t at,
                        std::size_t bytes) {
    std::uint32_t number = 0;
    for (std::size_t i = bytes; i > 0; --i) {
        number = number * 256U + header[at + i - 1];
    }
    return number;
}

/// dBase: bytes 4-7 number of records, 8-9 length of the header, 10-11 of a record; each record
/// begins with a blank, or a star where it is deleted (dBase III file format).
std::string fault_in_table(std::istream& file, std::uintmax_t size) {
    std::array<unsigned char, 32> header{};
    if (!file.read(reinterpret_cast<char*>(header.data()), header.size())) {
        return "it is cut off in its header";
    }
    const std::uint32_t count = number_at(header, 4, 4);
    const std::uint32_t begin = number_at(header, 8, 2);
    const std::uint32_t length = number_at(header, 10, 2);
    if (size < begin + std::uintmax_t{count} * length) {
        return "it is cut off: it states " + std::to_string(count) + " records of " +
               std::to_string(length) + " bytes";
    }
    constexpr std::size_t kRecords = 4096;
    std::vector<char> block(kRecords * length);
    if (begin > header.size()) {
        file.ignore(static_cast<std::streamsize>(begin - header.size()));
    }
    for (std::uint32_t done = 0; done < count && length > 0;) {
        const std::size_t some = std::min<std::size_t>(kRecords, count - done);
        if (!file.read(block.data(), static_cast<std::streamsize>(some * length))) {
            return "record " + std::to_string(done + 1) + " and those after it cannot be read";
        }
        for (std::size_t i = 0; i < some; ++i, ++done) {
            if (block[i * length] != ' ' && block[i * length] != '*') {
                return "record " + std::to_string(done + 1) + " is damaged";
            }
        }
    }
    return {};
}

} // namespace

std::string fault_of_kind(const std::string& path) {
    const std::string why = " is a pipe or a device, not a file; copy what it gives to a file";
    if (may_never_end(path)) {
        return "\"" + path + "\"" + why;
    }
    std::error_code none;
    const bool is_folder = fs::is_directory(path, none);
    const fs::path folder = is_folder ? fs::path(path) : fs::absolute(path, none).parent_path();
    if (!is_folder && !fs::exists(path, none)) {
        return {};
    }
    for (const fs::directory_entry& entry : fs::directory_iterator(folder, none)) {
        if ((is_folder || has_stem_of(entry.path(), path)) && may_never_end(entry.path())) {
            return "\"" + entry.path().filename().string() + "\"" + why;
        }
    }
    return {};
}

namespace {

std::string fault_in(std::istream& file, std::uintmax_t size, const std::string& path) {
    std::string ending = fs::path(path).extension().string();
    ending = ending.empty() ? ending : base::folded(ending.substr(1));
    if (size == 0 && (is_text_ending(ending) || is_one_of(kNeverEmpty, ending))) {
        return "it is empty";
    }
    if (ending == "dbf" || ending == "dat") {
        return fault_in_table(file, size);
    }
    return is_text_ending(ending) ? fault_in_text(file, ending) : std::string();
}

/// Of an archive all is unpacked once: whether a part of it is whole is known at its end alone.
std::string fault_in_archived(const std::string& path) {
    const GdalErrorScope errors;
    VSIStatBufL status;
    if (VSIStatL(path.c_str(), &status) != 0 || VSI_ISDIR(status.st_mode)) {
        return {};
    }
    VsiInput buffer(path);
    std::istream file(&buffer);
    const auto size = static_cast<std::uintmax_t>(status.st_size);
    std::string fault = fault_in(file, size, path);
    file.clear();
    file.ignore(std::numeric_limits<std::streamsize>::max());
    if (fault.empty() && (errors.failed() || buffer.count() != size)) {
        fault = "it cannot be unpacked after " + std::to_string(buffer.count()) + " of " +
                std::to_string(size) + " bytes" + (errors.failed() ? ": " + errors.text() : "");
    }
    return fault;
}

} // namespace

std::string fault_in_file(const std::string& path) {
    if (path.starts_with("/vsi")) {
        return fault_in_archived(path);
    }
    std::error_code none;
    const std::uintmax_t size = fs::file_size(path, none);
    std::ifstream file(path, std::ios::binary);
    if (none || !file) {
        return {}; // a driver that needs it says so
    }
    return fault_in(file, size, path);
}

} // namespace loopwalk::gis
