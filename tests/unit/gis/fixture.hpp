// What the tests of this folder share: a folder that goes away, small files, and SQLite as an
// independent reader of what was written.
#pragma once

#include <gtest/gtest.h>
#include <sqlite3.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <unistd.h>
#include <vector>

namespace loopwalk::gis::test {

namespace fs = std::filesystem;

class TempFolder {
  public:
    TempFolder() {
        std::string name = (fs::temp_directory_path() / "lw_gis_XXXXXX").string();
        m_path = ::mkdtemp(name.data());
    }
    TempFolder(const TempFolder&) = delete;
    TempFolder& operator=(const TempFolder&) = delete;
    ~TempFolder() {
        std::error_code unused;
        fs::remove_all(m_path, unused);
    }
    [[nodiscard]] std::string operator/(const std::string& name) const {
        return (m_path / name).string();
    }
    std::string write(const std::string& name, const std::string& text) const {
        std::ofstream(m_path / name, std::ios::binary) << text;
        return *this / name;
    }
    /// Names of everything in the folder, hidden files too, sorted.
    [[nodiscard]] std::vector<std::string> names() const {
        std::vector<std::string> found;
        for (const fs::directory_entry& entry : fs::directory_iterator(m_path)) {
            found.push_back(entry.path().filename().string());
        }
        std::sort(found.begin(), found.end());
        return found;
    }

  private:
    fs::path m_path;
};

inline std::string read_file(const std::string& path) {
    std::ostringstream text;
    text << std::ifstream(path, std::ios::binary).rdbuf();
    return text.str();
}

/// First column of every row as text; "NULL" for null. Fails the test if the SQL fails.
inline std::vector<std::string> query(const std::string& path, const std::string& sql) {
    std::vector<std::string> rows;
    sqlite3* database = nullptr;
    sqlite3_stmt* statement = nullptr;
    if (sqlite3_open_v2(path.c_str(), &database, SQLITE_OPEN_READONLY, nullptr) != SQLITE_OK ||
        sqlite3_prepare_v2(database, sql.c_str(), -1, &statement, nullptr) != SQLITE_OK) {
        ADD_FAILURE() << sql << ": " << sqlite3_errmsg(database);
    }
    while (statement != nullptr && sqlite3_step(statement) == SQLITE_ROW) {
        const void* text = sqlite3_column_text(statement, 0);
        rows.emplace_back(text != nullptr ? static_cast<const char*>(text) : "NULL");
    }
    sqlite3_finalize(statement);
    sqlite3_close(database);
    return rows;
}

/// Changes a file as another program would. Fails the test if the SQL fails.
inline void execute(const std::string& path, const std::string& sql) {
    sqlite3* database = nullptr;
    if (sqlite3_open(path.c_str(), &database) != SQLITE_OK ||
        sqlite3_exec(database, sql.c_str(), nullptr, nullptr, nullptr) != SQLITE_OK) {
        ADD_FAILURE() << sql << ": " << sqlite3_errmsg(database);
    }
    sqlite3_close(database);
}

/// One value.
inline std::string value(const std::string& path, const std::string& sql) {
    const std::vector<std::string> rows = query(path, sql);
    return rows.size() == 1 ? rows.front() : std::to_string(rows.size()) + " rows";
}

/// Message of the exception of type E that `action` throws; empty, and a failure, if it does not.
template <class E, class Action>
std::string message_of(Action action) {
    try {
        action();
    } catch (const E& error) {
        return error.what();
    }
    ADD_FAILURE() << "nothing was thrown";
    return {};
}

} // namespace loopwalk::gis::test
