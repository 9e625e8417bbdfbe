#include "partial_file.hpp"

#include <cpl_string.h>

#include "output_place.hpp"
#include "translate.hpp"
#include <cstdio>
#include <filesystem>

namespace loopwalk::gis {

namespace {

namespace fs = std::filesystem;

constexpr const char* kEnding = ".gpkg"; // GDAL does not open a GeoPackage of another name

void refuse_existing(const std::string& target, Overwrite overwrite) {
    std::error_code error;
    if (!fs::exists(target, error)) {
        return;
    }
    if (!fs::is_regular_file(target, error)) {
        refuse(target, "something that is not a file stands there. Choose another name");
    }
    if (overwrite == Overwrite::no) {
        refuse(target, "it exists. Choose another name, or allow it to be replaced (--overwrite)");
    }
}

} // namespace

PartialFile::PartialFile(const std::string& target, Overwrite overwrite,
                         const std::vector<std::string>& inputs)
    : m_given(target), m_overwrite(overwrite) {
    if (!EQUAL(fs::path(target).extension().c_str(), kEnding)) {
        refuse(target, std::string("its name must end in .gpkg (or, for a folder of another "
                                   "format, in one of ") +
                           folder_endings() + ")");
    }
    m_target = followed(target);
    refuse_inputs(m_target, inputs);
    refuse_existing(m_target, overwrite);
    check_folder(target, m_target);
    remove_stale(m_target);
    m_path = partial_name(m_target, kEnding);
}

PartialFile::~PartialFile() {
    if (m_published) {
        return;
    }
    std::error_code error; // nothing can be done in a destructor if the file stays
    for (const char* sidecar : {"", "-journal", "-wal", "-shm"}) {
        fs::remove(m_path + sidecar, error);
    }
}

void PartialFile::publish() {
    std::error_code error;
    for (const char* sidecar : {"-journal", "-wal"}) {
        if (fs::exists(m_path + sidecar, error)) {
            refuse(m_given, "the database was not closed cleanly");
        }
    }
    if (!sync_file(m_path)) {
        refuse_errno(m_given, "it cannot be brought to the disk");
    }
    refuse_existing(m_target, m_overwrite); // it may have come while this run was under way
    if (std::rename(m_path.c_str(), m_target.c_str()) != 0) {
        refuse_errno(m_given, "the finished file cannot be given its name");
    }
    m_published = true;
    sync_folder_of(m_given, m_target);
}

} // namespace loopwalk::gis
