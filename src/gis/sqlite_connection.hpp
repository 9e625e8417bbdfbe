// The few calls of SQLite that writing an output needs; every failure is an OutputError.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <string_view>

struct sqlite3;
struct sqlite3_stmt;
struct sqlite3_value;

namespace loopwalk::gis {

enum class SqliteMode : std::uint8_t { read_only, read_write };

struct SqliteClose {
    bool is_lent = false; ///< somebody else closes it
    void operator()(sqlite3* handle) const noexcept;
};

/// For one thread: SQLite locks nothing against others within it.
class SqliteConnection {
  public:
    SqliteConnection(const std::string& path, SqliteMode mode);
    /// Of a dataset that GDAL has open, and closes.
    explicit SqliteConnection(sqlite3* lent);

    void execute(const std::string& sql);
    /// First column of the first row.
    [[nodiscard]] std::int64_t integer(const std::string& sql);
    /// Inserted rows set off no triggers, until the connection ends.
    void leave_out_triggers();
    [[nodiscard]] sqlite3* handle() const noexcept { return m_handle.get(); }
    [[noreturn]] void fail(std::string_view doing) const;

  private:
    std::unique_ptr<sqlite3, SqliteClose> m_handle;
};

/// A prepared statement that is run many times.
class SqliteStatement {
  public:
    SqliteStatement(SqliteConnection& connection, const std::string& sql);

    /// Parameters count from 1.
    void bind(int parameter, std::int64_t value);
    void bind(int parameter, double value);
    void bind_null(int parameter);
    /// What is bound must live until run().
    void bind(int parameter, std::span<const std::uint8_t> bytes);
    void bind(int parameter, const std::string& text);
    void bind_block(int parameter, const std::string& bytes);
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

/// "(?,?),(?,?)": the parameters of that many rows. An insertion of some rows at once costs less
/// than one for each: SQLite looks up and notes the greatest key of the table once a statement.
[[nodiscard]] std::string sql_rows(std::size_t rows, std::size_t columns);

/// A name between double quotes, for SQL.
[[nodiscard]] std::string sql_name(const std::string& name);

} // namespace loopwalk::gis
