#include "row_writer.hpp"

#include "loopwalk/base/error.hpp"

#include "gpkg_contents.hpp"
#include "gpkg_geometry.hpp"
#include <optional>
#include <utility>

namespace loopwalk::gis {
namespace {

/// Enough that starting a thread for each does not count; some megabytes.
constexpr std::size_t kValuesOfABatch = 32768;

/// For so many rows.
std::string insertion(const std::string& table, const std::vector<std::string>& columns,
                      std::size_t rows) {
    std::string names;
    for (const std::string& column : columns) {
        names += (names.empty() ? "" : ",") + sql_name(column);
    }
    return "INSERT INTO " + sql_name(table) + " (" + names + ") VALUES " +
           sql_rows(rows, columns.size());
}

} // namespace

RowWriter::RowWriter(SqliteConnection& database, const IndexedTable& table,
                     const std::vector<std::string>& columns)
    : m_table(table.table), m_has_geometry(!table.geometry.empty()),
      m_system(m_has_geometry ? system_number(database, table.table) : 0),
      m_insert_some(database, insertion(table.table, columns, kTogether)),
      m_insert_one(database, insertion(table.table, columns, 1)),
      m_filling(kValuesOfABatch / columns.size()) {
    for (StoredRow& row : m_filling) {
        row.values.resize(columns.size() - (m_has_geometry ? 2 : 1));
    }
    m_written = m_filling;
}

void RowWriter::put() {
    if (++m_filled < m_filling.size()) {
        return;
    }
    wait();
    std::swap(m_filling, m_written);
    m_filled = 0;
    // Where no thread is to be had, wait() does it.
    m_writing =
        std::async(std::launch::async | std::launch::deferred, [this] { write(m_written); });
}

std::uint64_t RowWriter::finish() {
    wait();
    write(std::span(m_filling).first(std::exchange(m_filled, 0)));
    return m_digest;
}

void RowWriter::wait() {
    if (m_writing.valid()) {
        m_writing.get();
    }
}

void RowWriter::write(std::span<const StoredRow> rows) {
    for (const StoredRow& row : rows) {
        add_digest(row);
    }
    for (; rows.size() >= kTogether; rows = rows.subspan(kTogether)) {
        insert(m_insert_some, rows.first(kTogether));
    }
    for (; !rows.empty(); rows = rows.subspan(1)) {
        insert(m_insert_one, rows.first(1));
    }
}

void RowWriter::insert(SqliteStatement& insertion, std::span<const StoredRow> rows) {
    try {
        int parameter = 0;
        for (const StoredRow& row : rows) {
            insertion.bind(++parameter, row.key);
            if (m_has_geometry && row.geometry.empty()) {
                insertion.bind_null(++parameter);
            } else if (m_has_geometry) {
                insertion.bind_block(++parameter, row.geometry);
            }
            for (const StoredValue& value : row.values) {
                value.bind_to(insertion, ++parameter);
            }
        }
        insertion.run();
    } catch (const base::OutputError& error) {
        throw base::OutputError(
            "layer \"" + m_table + "\", feature " + std::to_string(rows.front().key) +
            (rows.size() > 1 ? " or one of the next" : "") + ": " + error.what());
    }
}

void RowWriter::add_digest(const StoredRow& row) {
    RowMixer mixer;
    mixer.integer(row.key);
    if (m_has_geometry && row.geometry.empty()) {
        mixer.null();
    } else if (m_has_geometry) {
        const std::optional<GpkgGeometry> geometry = from_gpkg(row.geometry, m_system);
        LW_ASSERT(geometry.has_value());
        geometry->mix_into(mixer);
    }
    for (const StoredValue& value : row.values) {
        value.mix_into(mixer);
    }
    m_digest += mixer.state();
}

} // namespace loopwalk::gis
