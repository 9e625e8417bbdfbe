#include "output_place.hpp"

#include "loopwalk/base/error.hpp"

#include <cerrno>
#include <fcntl.h>
#include <system_error>
#include <unistd.h>

namespace loopwalk::gis {

namespace {

namespace fs = std::filesystem;

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
