#include "partial_file.hpp"

#include <cpl_string.h>

#include "earlier_result.hpp"
#include "output_place.hpp"
#include "publish.hpp"
#include "same_place.hpp"
#include "translate.hpp"
#include <filesystem>

namespace loopwalk::gis {

namespace {

namespace fs = std::filesystem;

constexpr const char* kEnding = ".gpkg"; // GDAL does not open a GeoPackage of another name

/// The target with its links followed, once everything that speaks against it has been looked at.
std::string checked(const std::string& target, Overwrite overwrite,
                    const std::vector<std::string>& inputs) {
    if (!EQUAL(fs::path(target).extension().c_str(), kEnding)) {
        refuse(target, std::string("its name must end in .gpkg (or, for a folder of another "
                                   "format, in one of ") +
                           folder_endings() + ")");
    }
    refuse_collisions(target, inputs, {});
    std::string place = followed(target);
    check_replaceable_file(target, place, overwrite);
    return place;
}

void refuse_open_journals(const std::string& given, const std::string& path) {
    std::error_code error;
    for (const char* sidecar : {"-journal", "-wal"}) {
        if (fs::exists(path + sidecar, error)) {
            refuse(given, "the database was not closed cleanly");
        }
    }
}

} // namespace

PartialFile::PartialFile(const std::string& target, Overwrite overwrite,
                         const std::vector<std::string>& inputs)
    : m_given(target), m_target(checked(target, overwrite, inputs)), m_folder(target, m_target),
      m_path(m_folder.file(std::string("result") + kEnding)), m_overwrite(overwrite) {}

void PartialFile::publish() {
    refuse_open_journals(m_given, m_path);
    if (!sync_file(m_path)) {
        refuse_errno(m_given, "it cannot be brought to the disk");
    }
    check_replaceable_file(m_given, m_target, m_overwrite); // it may have come meanwhile
    give_name(m_given, m_path, m_target, m_overwrite);
}

} // namespace loopwalk::gis
