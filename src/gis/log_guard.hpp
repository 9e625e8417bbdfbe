// Keeps a write-ahead log beside an input file as it is. For this folder only.
#pragma once

#include <memory>
#include <string>

namespace loopwalk::gis {

/// GDAL opens an SQLite file whose `-wal` is still there once more on closing, to write, and then
/// SQLite moves the commits of the log into the file: input would be changed. It does not as long
/// as another connection is open. So this one, which cannot write, is opened first and closed
/// last. A `-shm` that came only with the reading goes with it.
class LogGuard {
  public:
    LogGuard(const LogGuard&) = delete;
    LogGuard& operator=(const LogGuard&) = delete;
    ~LogGuard();

    /// One for each file, shared by all that read it; null where there is no log with commits, or
    /// the file is none of SQLite's.
    [[nodiscard]] static std::shared_ptr<LogGuard> of(const std::string& path);

    /// Whether a log with commits stands beside the file.
    [[nodiscard]] static bool has_commits(const std::string& path);

  private:
    struct Connection;
    explicit LogGuard(std::string path);
    std::string m_path;
    bool m_had_index; ///< the `-shm` was there before
    std::unique_ptr<Connection> m_connection;
};

} // namespace loopwalk::gis
