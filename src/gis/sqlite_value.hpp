// One value of a row that SQLite read. In line: a result has ten million of them.
#pragma once

#include <sqlite3.h>

#include <cstddef>
#include <cstdint>
#include <new>
#include <string_view>

namespace loopwalk::gis {

/// How a value is stored, whatever its column is declared to hold. SQLite, "Fundamental Datatypes".
enum class SqliteStorage : std::uint8_t {
    integer = SQLITE_INTEGER,
    real = SQLITE_FLOAT,
    text = SQLITE3_TEXT,
    bytes = SQLITE_BLOB,
    null = SQLITE_NULL
};

/// Valid until the next step of its statement, whose connection is of one thread.
class SqliteValue {
  public:
    explicit SqliteValue(sqlite3_value* value) noexcept : m_value(value) {}

    [[nodiscard]] SqliteStorage storage() const noexcept {
        return static_cast<SqliteStorage>(sqlite3_value_type(m_value));
    }
    [[nodiscard]] std::int64_t integer() const noexcept { return sqlite3_value_int64(m_value); }
    [[nodiscard]] double real() const noexcept { return sqlite3_value_double(m_value); }
    /// Of a text (UTF-8) or a block, as it is stored.
    [[nodiscard]] std::string_view bytes() const {
        const void* bytes = sqlite3_value_blob(m_value); // before the size
        const auto size = static_cast<std::size_t>(sqlite3_value_bytes(m_value));
        if (bytes == nullptr && size > 0) {
            throw std::bad_alloc();
        }
        return size == 0 ? std::string_view()
                         : std::string_view(static_cast<const char*>(bytes), size);
    }

  private:
    sqlite3_value* m_value;
};

} // namespace loopwalk::gis
