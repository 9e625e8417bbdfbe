#include "same_place.hpp"

#include <algorithm>
#include <array>
#include <string_view>

namespace loopwalk::gis {
namespace {

namespace fs = std::filesystem;

constexpr int kMostLinks = 40; // as Linux has it
constexpr std::array<std::string_view, 3> kJournals = {"-wal", "-shm", "-journal"};
/// Endings that drivers read beside a file of the same stem.
constexpr std::array<std::string_view, 15> kSidecars = {".shx", ".dbf", ".prj",  ".cpg", ".qix",
                                                        ".sbn", ".sbx", ".csvt", ".gfs", ".xsd",
                                                        ".qml", ".dat", ".map",  ".id",  ".ind"};

std::string whole_path(const fs::path& path) {
    std::error_code error;
    const fs::path whole = fs::weakly_canonical(fs::absolute(path, error), error);
    return error ? fs::absolute(path, error).lexically_normal().string() : whole.string();
}

/// Letters without case: those of ASCII and, in UTF-8, of Latin-1.
std::string folded(std::string text) {
    bool after_c3 = false;
    for (char& letter : text) {
        const auto byte = static_cast<unsigned char>(letter);
        const bool is_capital = (byte >= 'A' && byte <= 'Z') ||
                                (after_c3 && byte >= 0x80 && byte <= 0x9E && byte != 0x97);
        after_c3 = byte == 0xC3;
        letter = is_capital ? static_cast<char>(byte + 0x20U) : letter;
    }
    return text;
}

std::string without_ending(const std::string& path) {
    return fs::path(path).replace_extension().string();
}

constexpr std::string_view kVirtual = "/vsi";

} // namespace

std::string file_behind(const std::string& name) {
    if (!name.starts_with(kVirtual)) {
        return name;
    }
    const std::size_t slash = name.find('/', 1);
    std::string rest = slash == std::string::npos ? "" : name.substr(slash + 1);
    if (rest.starts_with(kVirtual)) { // an archive within an archive
        return file_behind(rest);
    }
    if (const std::size_t end = rest.find('}'); rest.starts_with('{') && end != rest.npos) {
        rest = rest.substr(1, end - 1);
        return rest.starts_with(kVirtual) ? file_behind(rest) : rest;
    }
    std::error_code error;
    for (fs::path path = rest; !path.empty() && path != path.parent_path();
         path = path.parent_path()) {
        if (fs::is_regular_file(path, error)) {
            return path.string();
        }
    }
    return name;
}

std::string followed(const std::string& path) {
    fs::path at = path;
    std::error_code error;
    for (int links = 0; links < kMostLinks && fs::is_symlink(at, error); ++links) {
        const fs::path to = fs::read_symlink(at, error);
        if (error) {
            break;
        }
        at = to.is_absolute() ? to : at.parent_path() / to;
    }
    return whole_path(at);
}

DiskPlace::DiskPlace(const std::string& path) {
    const std::string whole = followed(file_behind(path));
    struct stat status {};
    if (::stat(whole.c_str(), &status) == 0) {
        m_status = status;
    }
    m_folded = folded(whole);
    while (m_folded.size() > 1 && m_folded.back() == '/') {
        m_folded.pop_back();
    }
}

bool DiskPlace::is(const DiskPlace& other) const {
    if (m_status.has_value() && other.m_status.has_value()) {
        return m_status->st_dev == other.m_status->st_dev &&
               m_status->st_ino == other.m_status->st_ino;
    }
    return m_folded == other.m_folded;
}

bool DiskPlace::is_within(const DiskPlace& other) const {
    return m_folded.size() > other.m_folded.size() && m_folded.starts_with(other.m_folded) &&
           (other.m_folded.ends_with('/') || m_folded[other.m_folded.size()] == '/');
}

bool DiskPlace::is_part_of(const DiskPlace& other) const {
    const bool is_journal = std::any_of(kJournals.begin(), kJournals.end(), [&](auto ending) {
        return m_folded == other.m_folded + std::string(ending);
    });
    const std::string ending = fs::path(m_folded).extension().string();
    return is_journal ||
           (std::find(kSidecars.begin(), kSidecars.end(), ending) != kSidecars.end() &&
            without_ending(m_folded) == without_ending(other.m_folded));
}

} // namespace loopwalk::gis
