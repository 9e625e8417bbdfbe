// Rows on their way into a table of a GeoPackage. For this folder only.
#pragma once

#include "spatial_index.hpp"
#include "sqlite_connection.hpp"
#include "stored_value.hpp"
#include <cstddef>
#include <cstdint>
#include <future>
#include <span>
#include <string>
#include <vector>

namespace loopwalk::gis {

struct StoredRow {
    std::int64_t key = 0;
    std::string geometry; ///< as a GeoPackage stores it; empty: none
    std::vector<StoredValue> values;
};

/// Inserts the rows of one table on a thread of its own, a batch at a time, while the next batch is
/// filled. Nobody else may use the connection until finish() has returned.
class RowWriter {
  public:
    /// `columns` are key, geometry if the table has one, fields. Throws OutputError.
    RowWriter(SqliteConnection& database, const IndexedTable& table,
              const std::vector<std::string>& columns);
    RowWriter(const RowWriter&) = delete;
    RowWriter& operator=(const RowWriter&) = delete;
    ~RowWriter() = default; ///< waits for the batch that is being written

    /// The next row: to be filled, no matter what it holds.
    [[nodiscard]] StoredRow& row() noexcept { return m_filling[m_filled]; }
    /// Takes it. Throws OutputError if one of the rows before could not be written.
    void put();
    /// Returns when all rows are in the table: the sum of what RowMixer gives for each. Throws
    /// OutputError.
    [[nodiscard]] std::uint64_t finish();

  private:
    /// Rows of a statement. SQLite takes 32766 parameters and tables of 2000 columns.
    static constexpr std::size_t kTogether = 16;
    using Batch = std::vector<StoredRow>;
    void wait();
    void write(std::span<const StoredRow> rows);
    void insert(SqliteStatement& insertion, std::span<const StoredRow> rows);
    void add_digest(const StoredRow& row);

    std::string m_table;
    bool m_has_geometry;
    std::int32_t m_system;         ///< of its geometries
    SqliteStatement m_insert_some; ///< kTogether at once
    SqliteStatement m_insert_one;
    std::uint64_t m_digest = 0;
    Batch m_filling;
    std::size_t m_filled = 0;
    Batch m_written;
    std::future<void> m_writing; ///< the last member: its end waits for the thread
};

} // namespace loopwalk::gis
