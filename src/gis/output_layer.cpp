#include "output_layer.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/memory.hpp"

#include "gpkg_geometry.hpp"
#include <algorithm>
#include <cmath>

namespace loopwalk::gis {

namespace {

bool is_finite(const OGREnvelope& box) {
    return std::isfinite(box.MinX) && std::isfinite(box.MaxX) && std::isfinite(box.MinY) &&
           std::isfinite(box.MaxY);
}

} // namespace

void output_failed(const std::string& target, const std::string& doing, const std::string& why) {
    check_memory(); // then that is the reason, whatever the library calls it
    const bool full = why.find("full") != std::string::npos;
    throw base::OutputError("cannot write \"" + target + "\": " + doing + " failed: " + why +
                            (full ? ". Make room on the disk, or write elsewhere" : ""));
}

void OutputLayer::open(SqliteConnection& database) {
    try {
        m_system = table.geometry.empty() ? 0 : system_number(database, table.table);
        m_rows = std::make_unique<RowWriter>(database, table, columns);
    } catch (const base::OutputError& error) {
        output_failed(target, "layer \"" + table.table + "\"", error.what());
    }
}

std::vector<StoredValue>& OutputLayer::row() {
    LW_ASSERT(m_rows != nullptr); // one layer is written at a time
    return m_rows->row().values;
}

std::vector<StoredValue>& OutputLayer::start_row() {
    for (StoredValue& value : row()) {
        value.set_null();
    }
    return row();
}

void OutputLayer::put(std::optional<std::int64_t> key, const OGRGeometry* geometry) {
    LW_ASSERT(m_rows != nullptr);
    try {
        StoredRow& row = m_rows->row();
        row.key = key.value_or(m_last_key + 1);
        row.geometry.clear();
        if (geometry != nullptr) {
            to_gpkg(*geometry, m_system, row.geometry);
            note(row.key, *geometry);
        }
        m_last_key = std::max(m_last_key, row.key);
        ++written;
        m_rows->put();
    } catch (const base::OutputError& error) {
        output_failed(target, "writing the rows", error.what());
    }
}

void OutputLayer::close() {
    if (m_rows == nullptr) {
        return;
    }
    try {
        digest = m_rows->finish();
        m_rows.reset();
    } catch (const base::OutputError& error) {
        output_failed(target, "writing the rows", error.what());
    }
}

void OutputLayer::note(std::int64_t key, const OGRGeometry& geometry) {
    OGREnvelope box;
    if (geometry.IsEmpty() == 0) {
        geometry.getEnvelope(&box);
    }
    geometries.add(geometry, box, geometry_type);
    if (index == SpatialIndex::yes && box.IsInit() != 0 && is_finite(box)) {
        boxes.push_back(index_entry(key, box.MinX, box.MaxX, box.MinY, box.MaxY));
        ++indexed;
    }
}

OutputColumn column_of(const OutputField& field) {
    OutputColumn column;
    column.name = field.name;
    switch (field.kind) {
    case FieldKind::integer:
        column.type = OFTInteger64;
        break;
    case FieldKind::real:
        column.type = OFTReal;
        break;
    case FieldKind::boolean:
        column.type = OFTInteger;
        column.subtype = OFSTBoolean;
        break;
    case FieldKind::text:
    case FieldKind::date:
    case FieldKind::other:
        break;
    }
    return column;
}

StoredValue& Row::State::at(std::size_t field) const {
    std::vector<StoredValue>& row = layer.row();
    LW_ASSERT(first_field + field < row.size());
    return row[first_field + field];
}

void Row::set(std::size_t field, double value) {
    LW_ASSERT(std::isfinite(value)); // what was not computed is null
    m_state->at(field).set(value);
}

void Row::set(std::size_t field, std::int64_t value) {
    m_state->at(field).set(value);
}

void Row::set(std::size_t field, std::string_view value) {
    m_state->at(field).set(value);
}

void Row::set_null(std::size_t field) {
    m_state->at(field).set_null();
}

} // namespace loopwalk::gis
