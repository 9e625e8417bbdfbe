#include "row_writer.hpp"

#include "loopwalk/base/error.hpp"

#include "gpkg_contents.hpp"
#include "gpkg_geometry.hpp"
#include <optional>
#include <utility>

namespace loopwalk::gis {
namespace {

/// Enough that starting a thread for each does not count; some megabytes.
constexpr std::size_t kValuesOfABatch = 65536;

/// "INSERT INTO "table" ("key","name",...) VALUES (?,?,...)".
std::string insertion(const std::string& table, const std::vector<std::string>& columns) {
    std::string names;
    std::string values;
    for (const std::string& column : columns) {
        names += (names.empty() ? "" : ",") + sql_name(column);
        values += values.empty() ? "?" : ",?";
    }
    return "INSERT INTO " + sql_name(table) + " (" + names + ") VALUES (" + values + ")";
}

} // namespace

RowWriter::RowWriter(SqliteConnection& database, const IndexedTable& table,
                     const std::vector<std::string>& columns)
    : m_table(table.table), m_has_geometry(!table.geometry.empty()),
      m_system(m_has_geometry ? system_number(database, table.table) : 0),
      m_insert(database, insertion(table.table, columns)), m_filling(kValuesOfABatch / columns.size()) {
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
    m_writing = std::async(std::launch::async | std::launch::deferred,
                           [this] { write(m_written, m_written.size()); });
}

std::uint64_t RowWriter::finish() {
    wait();
    write(m_filling, std::exchange(m_filled, 0));
    return m_digest;
}

void RowWriter::wait() {
    if (m_writing.valid()) {
        m_writing.get();
    }
}

void RowWriter::write(const Batch& batch, std::size_t count) {
    for (std::size_t i = 0; i < count; ++i) {
        insert(batch[i]);
        add_digest(batch[i]);
    }
}

void RowWriter::insert(const StoredRow& row) {
    try {
        int parameter = 0;
        m_insert.bind(++parameter, row.key);
        if (m_has_geometry && row.geometry.empty()) {
            m_insert.bind_null(++parameter);
        } else if (m_has_geometry) {
            m_insert.bind_block(++parameter, row.geometry);
        }
        for (const StoredValue& value : row.values) {
            value.bind_to(m_insert, ++parameter);
        }
        m_insert.run();
    } catch (const base::OutputError& error) {
        throw base::OutputError("layer \"" + m_table + "\", feature " + std::to_string(row.key) +
                                ": " + error.what());
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
