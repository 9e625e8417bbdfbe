#include "log_guard.hpp"

#include <sqlite3.h>

#include <cerrno>
#include <fcntl.h>
#include <filesystem>
#include <map>
#include <unistd.h>

namespace loopwalk::gis {

namespace {

namespace fs = std::filesystem;

std::string index_of(const std::string& path) {
    return path + "-shm";
}

/// Each connection holds a shared lock on this byte of the `-shm` (SQLite, wal.c and os_unix.c:
/// UNIX_SHM_DMS), so who gets it for himself knows that nobody else is connected.
constexpr off_t kConnectedByte = (22 + 8) * 4 + 8;

/// Takes away the `-shm` of a log that nobody reads. Where that cannot be told it stays: SQLite
/// makes it anew from the log.
void remove_index(const std::string& index) {
    const int file = ::open(index.c_str(), O_RDWR | O_CLOEXEC | O_NOFOLLOW);
    if (file < 0) {
        return;
    }
    struct flock lock {};
    lock.l_type = F_WRLCK;
    lock.l_whence = SEEK_SET;
    lock.l_start = kConnectedByte;
    lock.l_len = 1;
    if (::fcntl(file, F_SETLK, &lock) == 0) {
        ::unlink(index.c_str());
    }
    ::close(file);
}

} // namespace

struct LogGuard::Connection {
    sqlite3* handle = nullptr;

    explicit Connection(const std::string& path) {
        // Reading the schema is what connects it to the log. If it cannot, GDAL says why.
        if (sqlite3_open_v2(path.c_str(), &handle, SQLITE_OPEN_READONLY, nullptr) == SQLITE_OK) {
            sqlite3_busy_timeout(handle, 5000);
            sqlite3_exec(handle, "SELECT count(*) FROM sqlite_master", nullptr, nullptr, nullptr);
        }
    }
    Connection(const Connection&) = delete;
    Connection& operator=(const Connection&) = delete;
    ~Connection() { sqlite3_close_v2(handle); }
};

LogGuard::LogGuard(std::string path)
    : m_path(std::move(path)), m_had_index(fs::exists(index_of(m_path))),
      m_connection(std::make_unique<Connection>(m_path)) {}

LogGuard::~LogGuard() {
    m_connection.reset();
    if (!m_had_index) {
        remove_index(index_of(m_path));
    }
}

bool LogGuard::has_commits(const std::string& path) {
    std::error_code none;
    const auto size = fs::file_size(path + "-wal", none);
    return !none && size > 0;
}

std::shared_ptr<LogGuard> LogGuard::of(const std::string& path) {
    // Closing any file of a process drops its locks, so there is one guard for all.
    static std::map<std::string, std::weak_ptr<LogGuard>> guards;
    std::error_code none;
    if (!has_commits(path) || !fs::is_regular_file(path, none)) {
        return nullptr;
    }
    std::weak_ptr<LogGuard>& known = guards[fs::weakly_canonical(path, none).string()];
    std::shared_ptr<LogGuard> guard = known.lock();
    if (guard == nullptr) {
        guard.reset(new LogGuard(path)); // the constructor is private
        known = guard;
    }
    return guard;
}

} // namespace loopwalk::gis
