// The few calls of SQLite that finishing an output needs; every failure is an OutputError.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>

struct sqlite3;
struct sqlite3_stmt;
struct sqlite3_value;

namespace loopwalk::gis {

enum class SqliteMode : std::uint8_t { read_only, read_write };

/// For one thread: SQLite locks nothing against others within it.
class SqliteConnection {
  public:
    SqliteConnection(const std::string& path, SqliteMode mode);

    void execute(const std::string& sql);
    /// First column of the first row.
    [[nodiscard]] std::int64_t integer(const std::string& sql);
    [[nodiscard]] sqlite3* handle() const noexcept { return m_handle.get(); }
    [[noreturn]] void fail(const std::string& doing) const;

  private:
    struct Close {
        void operator()(sqlite3* handle) const noexcept;
    };
    std::unique_ptr<sqlite3, Close> m_handle;
};

/// A prepared statement that is run many times.
class SqliteStatement {
  public:
    SqliteStatement(SqliteConnection& connection, const std::string& sql);

    /// Parameters count from 1.
    void bind(int parameter, std::int64_t value);
    /// `bytes` must live until run().
    void bind(int parameter, std::span<const std::uint8_t> bytes);
    void bind(int parameter, const std::string& text);
    void run();
    /// Steps to the next row; false after the last.
    [[nodiscard]] bool next();

    [[nodiscard]] int column_count() const noexcept;
    [[nodiscard]] std::string column_name(int column) const;
    /// Of the current row; columns count from 0. For SqliteValue.
    [[nodiscard]] sqlite3_value* value(int column) const noexcept;

  private:
    struct Finalize {
        void operator()(sqlite3_stmt* statement) const noexcept;
    };
    SqliteConnection* m_connection;
    std::unique_ptr<sqlite3_stmt, Finalize> m_statement;
};

/// A name between double quotes, for SQL.
[[nodiscard]] std::string sql_name(const std::string& name);

} // namespace loopwalk::gis
