#include "partial_file.hpp"

#include "loopwalk/base/error.hpp"

#include <cpl_string.h>

#include <cerrno>
#include <charconv>
#include <csignal>
#include <fcntl.h>
#include <filesystem>
#include <optional>
#include <string_view>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>

namespace loopwalk::gis {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view kSuffix = ".gpkg"; // GDAL does not open a GeoPackage of another name

[[noreturn]] void refuse(const std::string& target, const std::string& why) {
    throw base::OutputError("cannot write \"" + target + "\": " + why);
}

[[noreturn]] void refuse_errno(const std::string& target, const std::string& doing) {
    refuse(target, doing + ": " + std::generic_category().message(errno));
}

std::optional<struct stat> status_of(const std::string& path) {
    struct stat status {};
    if (::stat(path.c_str(), &status) != 0) { // follows links
        return std::nullopt;
    }
    return status;
}

void refuse_inputs(const std::string& target, const std::vector<std::string>& inputs) {
    const std::optional<struct stat> mine = status_of(target);
    if (!mine.has_value()) {
        return;
    }
    for (const std::string& input : inputs) {
        const std::optional<struct stat> other = status_of(input); // none: not a file
        if (other.has_value() && other->st_dev == mine->st_dev && other->st_ino == mine->st_ino) {
            refuse(target, "it is the input \"" + input +
                               "\", which is never changed. Choose another name");
        }
    }
}

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

fs::path folder_of(const fs::path& target) {
    const fs::path folder = target.parent_path();
    return folder.empty() ? fs::path(".") : folder;
}

std::string partial_start(const fs::path& target) {
    return "." + target.stem().string() + ".partial-";
}

/// The process in `.<stem>.partial-<pid>.gpkg` or one of its sidecars; none for other names.
std::optional<pid_t> process_in(std::string_view name, std::string_view start) {
    if (!name.starts_with(start)) {
        return std::nullopt;
    }
    name.remove_prefix(start.size());
    pid_t process = 0;
    const auto [end, error] = std::from_chars(name.data(), name.data() + name.size(), process);
    name.remove_prefix(static_cast<std::size_t>(end - name.data()));
    if (error != std::errc() || process <= 0 || !name.starts_with(kSuffix)) {
        return std::nullopt;
    }
    return process;
}

bool lives(pid_t process) {
    return ::kill(process, 0) == 0 || errno != ESRCH;
}

/// Of dead processes, and of an earlier one that had this process's number. Failing to remove
/// one is no reason to fail: it takes room, no more.
void remove_stale(const fs::path& target) {
    const std::string start = partial_start(target);
    std::error_code error;
    std::vector<fs::path> stale;
    for (fs::directory_iterator at(folder_of(target), error), end; !error && at != end;
         at.increment(error)) {
        const std::optional<pid_t> process = process_in(at->path().filename().string(), start);
        if (process.has_value() && (*process == ::getpid() || !lives(*process))) {
            stale.push_back(at->path());
        }
    }
    for (const fs::path& path : stale) {
        fs::remove(path, error);
    }
}

class Descriptor {
  public:
    Descriptor(const std::string& path, int flags)
        // NOLINTNEXTLINE(cppcoreguidelines-pro-type-vararg): POSIX has no other
        : m_number(::open(path.c_str(), flags)) {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    ~Descriptor() {
        if (m_number >= 0) {
            ::close(m_number);
        }
    }
    /// False with errno set.
    [[nodiscard]] bool sync() const noexcept { return m_number >= 0 && ::fsync(m_number) == 0; }

  private:
    int m_number;
};

} // namespace

PartialFile::PartialFile(const std::string& target, Overwrite overwrite,
                         const std::vector<std::string>& inputs)
    : m_given(target), m_overwrite(overwrite) {
    if (!EQUAL(fs::path(target).extension().c_str(), kSuffix.data())) {
        refuse(target, "its name must end in .gpkg");
    }
    std::error_code error;
    const fs::path followed = fs::weakly_canonical(target, error);
    m_target = error ? target : followed.string();
    refuse_inputs(m_target, inputs);
    refuse_existing(m_target, overwrite);
    const fs::path folder = folder_of(m_target);
    if (!fs::is_directory(folder, error)) {
        refuse(target, "the folder \"" + folder_of(target).string() + "\" does not exist");
    }
    if (::access(folder.c_str(), W_OK | X_OK) != 0) {
        refuse_errno(target, "the folder cannot be written to");
    }
    remove_stale(m_target);
    m_path = (folder / (partial_start(m_target) + std::to_string(::getpid()))).string();
    m_path += kSuffix;
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
    for (const char* sidecar : {"-journal", "-wal"}) {
        if (status_of(m_path + sidecar).has_value()) {
            refuse(m_given, "the database was not closed cleanly");
        }
    }
    if (!Descriptor(m_path, O_RDONLY | O_CLOEXEC).sync()) {
        refuse_errno(m_given, "it cannot be brought to the disk");
    }
    refuse_existing(m_target, m_overwrite); // it may have come while this run was under way
    if (::rename(m_path.c_str(), m_target.c_str()) != 0) {
        refuse_errno(m_given, "the finished file cannot be given its name");
    }
    m_published = true;
    const Descriptor folder(folder_of(m_target).string(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (!folder.sync() && errno != EINVAL && errno != ENOTSUP) { // some systems sync no folders
        throw base::OutputError("\"" + m_given +
                                "\" is written and complete, but its folder could "
                                "not be synced: it may be lost if the power fails now");
    }
}

} // namespace loopwalk::gis
