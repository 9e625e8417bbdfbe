#include "output_place.hpp"

#include "loopwalk/base/error.hpp"

#include <cerrno>
#include <charconv>
#include <csignal>
#include <fcntl.h>
#include <optional>
#include <string_view>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>

namespace loopwalk::gis {

namespace {

namespace fs = std::filesystem;

std::optional<struct stat> status_of(const std::string& path) {
    struct stat status {};
    if (::stat(path.c_str(), &status) != 0) { // follows links
        return std::nullopt;
    }
    return status;
}

std::string partial_start(const fs::path& target) {
    return "." + target.stem().string() + ".partial-";
}

/// The process in `.<stem>.partial-<pid>.<ending>` or one of its sidecars; none for other names.
std::optional<pid_t> process_in(std::string_view name, std::string_view start) {
    if (!name.starts_with(start)) {
        return std::nullopt;
    }
    name.remove_prefix(start.size());
    pid_t process = 0;
    const auto [end, error] = std::from_chars(name.data(), name.data() + name.size(), process);
    name.remove_prefix(static_cast<std::size_t>(end - name.data()));
    if (error != std::errc() || process <= 0 || !name.starts_with('.')) {
        return std::nullopt;
    }
    return process;
}

bool lives(pid_t process) {
    return ::kill(process, 0) == 0 || errno != ESRCH;
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

void refuse(const std::string& target, const std::string& why) {
    throw base::OutputError("cannot write \"" + target + "\": " + why);
}

void refuse_errno(const std::string& target, const std::string& doing) {
    refuse(target, doing + ": " + std::generic_category().message(errno));
}

fs::path folder_of(const fs::path& target) {
    const fs::path folder = target.parent_path();
    return folder.empty() ? fs::path(".") : folder;
}

std::string followed(const std::string& target) {
    std::error_code error;
    const fs::path path = fs::weakly_canonical(target, error);
    return error ? target : path.string();
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

void check_folder(const std::string& given, const fs::path& target) {
    std::error_code error;
    const fs::path folder = folder_of(target);
    if (!fs::is_directory(folder, error)) {
        refuse(given, "the folder \"" + folder_of(given).string() + "\" does not exist");
    }
    if (::access(folder.c_str(), W_OK | X_OK) != 0) {
        refuse_errno(given, "the folder cannot be written to");
    }
}

std::string partial_name(const fs::path& target, const std::string& ending) {
    const fs::path path = folder_of(target) / (partial_start(target) + std::to_string(::getpid()));
    return path.string() + ending;
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
        fs::remove_all(path, error);
    }
}

bool sync_file(const std::string& path) {
    return Descriptor(path, O_RDONLY | O_CLOEXEC).sync();
}

void sync_folder_of(const std::string& given, const fs::path& target) {
    const Descriptor folder(folder_of(target).string(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (!folder.sync() && errno != EINVAL && errno != ENOTSUP) { // some systems sync no folders
        throw base::OutputError("\"" + given +
                                "\" is written and complete, but its folder could "
                                "not be synced: it may be lost if the power fails now");
    }
}

} // namespace loopwalk::gis
