#include "sqlite_connection.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include <sqlite3.h>

#include <new>

namespace loopwalk::gis {

namespace {

void check(const SqliteConnection& connection, bool ok, std::string_view doing) {
    if (!ok) {
        connection.fail(doing);
    }
}

} // namespace

void SqliteClose::operator()(sqlite3* handle) const noexcept {
    if (!is_lent) {
        sqlite3_close_v2(handle);
    }
}

void SqliteStatement::Finalize::operator()(sqlite3_stmt* statement) const noexcept {
    sqlite3_finalize(statement);
}

SqliteConnection::SqliteConnection(const std::string& path, SqliteMode mode) {
    sqlite3* handle = nullptr;
    const int flags =
        (mode == SqliteMode::read_only ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE) |
        SQLITE_OPEN_NOMUTEX | (path.starts_with("file:/") ? SQLITE_OPEN_URI : 0);
    const int result = sqlite3_open_v2(path.c_str(), &handle, flags, nullptr);
    m_handle.reset(handle); // also a failed opening gives a handle to close
    check(*this, result == SQLITE_OK, "open the database");
}

SqliteConnection::SqliteConnection(sqlite3* lent) : m_handle(lent, SqliteClose{true}) {
    LW_ASSERT(lent != nullptr);
}

void SqliteConnection::fail(std::string_view doing) const {
    const int error = sqlite3_errcode(m_handle.get());
    if (error == SQLITE_NOMEM) {
        throw std::bad_alloc();
    }
    throw base::OutputError(
        "cannot " + std::string(doing) + ": " + sqlite3_errmsg(m_handle.get()) +
        (error == SQLITE_BUSY || error == SQLITE_LOCKED ? ". Another program has locked it" : ""));
}

void SqliteConnection::execute(const std::string& sql) {
    const int result = sqlite3_exec(m_handle.get(), sql.c_str(), nullptr, nullptr, nullptr);
    check(*this, result == SQLITE_OK, "run " + sql.substr(0, 80));
}

std::int64_t SqliteConnection::integer(const std::string& sql) {
    sqlite3_stmt* raw = nullptr;
    const int prepared = sqlite3_prepare_v2(m_handle.get(), sql.c_str(), -1, &raw, nullptr);
    const std::unique_ptr<sqlite3_stmt, int (*)(sqlite3_stmt*)> statement(raw, &sqlite3_finalize);
    check(*this, prepared == SQLITE_OK && sqlite3_step(raw) == SQLITE_ROW, "run " + sql);
    return sqlite3_column_int64(raw, 0);
}

void SqliteConnection::leave_out_triggers() {
    const int result =
        sqlite3_db_config(m_handle.get(), SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, nullptr);
    check(*this, result == SQLITE_OK, "switch triggers off");
}

SqliteStatement::SqliteStatement(SqliteConnection& connection, const std::string& sql)
    : m_connection(&connection) {
    sqlite3_stmt* raw = nullptr;
    const int result = sqlite3_prepare_v2(connection.handle(), sql.c_str(), -1, &raw, nullptr);
    m_statement.reset(raw);
    check(connection, result == SQLITE_OK, "prepare " + sql);
}

void SqliteStatement::bind(int parameter, std::int64_t value) {
    const int result = sqlite3_bind_int64(m_statement.get(), parameter, value);
    check(*m_connection, result == SQLITE_OK, "bind a number");
}

void SqliteStatement::bind(int parameter, double value) {
    const int result = sqlite3_bind_double(m_statement.get(), parameter, value);
    check(*m_connection, result == SQLITE_OK, "bind a real number");
}

void SqliteStatement::bind_null(int parameter) {
    const int result = sqlite3_bind_null(m_statement.get(), parameter);
    check(*m_connection, result == SQLITE_OK, "bind a null");
}

void SqliteStatement::bind(int parameter, std::span<const std::uint8_t> bytes) {
    const int result = sqlite3_bind_blob64(m_statement.get(), parameter, bytes.data(), bytes.size(),
                                           nullptr); // nullptr: SQLITE_STATIC
    check(*m_connection, result == SQLITE_OK, "bind a block");
}

void SqliteStatement::bind(int parameter, const std::string& text) {
    const int result = sqlite3_bind_text64(m_statement.get(), parameter, text.data(), text.size(),
                                           nullptr, SQLITE_UTF8);
    check(*m_connection, result == SQLITE_OK, "bind a text");
}

void SqliteStatement::bind_block(int parameter, const std::string& bytes) {
    const int result = sqlite3_bind_blob64(m_statement.get(), parameter, bytes.data(), bytes.size(),
                                           nullptr); // an empty one is no null: it has an address
    check(*m_connection, result == SQLITE_OK, "bind a block");
}

void SqliteStatement::run() {
    const bool done = sqlite3_step(m_statement.get()) == SQLITE_DONE;
    check(*m_connection, done, "write a row");
    sqlite3_reset(m_statement.get());
}

bool SqliteStatement::next() {
    const int result = sqlite3_step(m_statement.get());
    check(*m_connection, result == SQLITE_ROW || result == SQLITE_DONE, "read a row");
    return result == SQLITE_ROW;
}

int SqliteStatement::column_count() const noexcept {
    return sqlite3_column_count(m_statement.get());
}

std::string SqliteStatement::column_name(int column) const {
    const char* name = sqlite3_column_name(m_statement.get(), column);
    check(*m_connection, name != nullptr, "read the name of a column");
    return name;
}

sqlite3_value* SqliteStatement::value(int column) const noexcept {
    return sqlite3_column_value(m_statement.get(), column);
}

std::string sql_rows(std::size_t rows, std::size_t columns) {
    std::string text;
    for (std::size_t i = 0; i < rows * columns; ++i) {
        text += i % columns > 0 ? ",?" : (i == 0 ? "(?" : "),(?");
    }
    return text + ")";
}

std::string sql_name(const std::string& name) {
    return base::quoted_sql(name, '"');
}

} // namespace loopwalk::gis
