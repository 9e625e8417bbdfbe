#include "sqlite_input.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"
#include "loopwalk/gis/interrupt.hpp"

#include <sqlite3.h>

#include <algorithm>
#include <array>
#include <memory>
#include <string_view>
#include <vector>

namespace loopwalk::gis {

namespace {

sqlite3* handle_of(GDALDataset& dataset) {
    const std::string_view driver = dataset.GetDriverName();
    if (driver != "GPKG" && driver != "SQLite") {
        return nullptr;
    }
    return static_cast<sqlite3*>(dataset.GetInternalHandle("SQLITE_HANDLE"));
}

/// Called from C code, so nothing may leave it.
int is_to_stop(void* /*unused*/) noexcept {
    try {
        stop_if_asked();
        return 0;
    } catch (const base::Interrupted&) {
        return 1;
    }
}

/// The first column of all rows; an error of the query stands as a row.
std::vector<std::string> rows_of(sqlite3* handle, const std::string& query) {
    std::vector<std::string> rows;
    sqlite3_stmt* raw = nullptr;
    int result = sqlite3_prepare_v2(handle, query.c_str(), -1, &raw, nullptr);
    const std::unique_ptr<sqlite3_stmt, int (*)(sqlite3_stmt*)> statement(raw, &sqlite3_finalize);
    if (result == SQLITE_OK) {
        for (result = sqlite3_step(raw); result == SQLITE_ROW; result = sqlite3_step(raw)) {
            const auto* text = sqlite3_column_text(raw, 0);
            rows.emplace_back(text != nullptr ? reinterpret_cast<const char*>(text) : "");
        }
    }
    if (result != SQLITE_DONE) {
        rows.emplace_back(sqlite3_errmsg(handle));
    }
    return rows;
}

/// Against the rules of a table, but whole: records are written by many programs.
bool is_whole(std::string_view row) {
    constexpr std::array<std::string_view, 5> kHarmless = {
        "ok", "NULL value in ", "CHECK constraint failed", "NUMERIC value in ", "TEXT value in "};
    return std::any_of(kHarmless.begin(), kHarmless.end(),
                       [row](std::string_view start) { return row.starts_with(start); });
}

} // namespace

void heed_stops(GDALDataset& dataset) {
    constexpr int kSteps = 100000; // of SQLite's machine: some milliseconds
    if (sqlite3* handle = handle_of(dataset)) {
        sqlite3_progress_handler(handle, kSteps, is_to_stop, nullptr);
    }
}

std::string fault_in_contents(GDALDataset& dataset) {
    sqlite3* handle = handle_of(dataset);
    if (handle == nullptr || std::string_view(dataset.GetDriverName()) != "GPKG") {
        return {};
    }
    for (const char* table : {"gpkg_contents", "gpkg_geometry_columns", "gpkg_spatial_ref_sys"}) {
        const std::string name(table);
        const std::vector<std::string> there =
            rows_of(handle, "SELECT name FROM sqlite_master WHERE lower(name) = '" + name + "'");
        for (const std::string& row :
             there.empty() ? there
                           : rows_of(handle, "PRAGMA main.integrity_check('" + name + "')")) {
            if (!is_whole(row)) {
                return "table " + name + ": " + row;
            }
        }
    }
    const std::vector<std::string> missing =
        rows_of(handle, "SELECT table_name FROM gpkg_contents WHERE lower(table_name) NOT IN "
                        "(SELECT lower(name) FROM sqlite_master WHERE type IN ('table', 'view'))");
    if (!missing.empty()) {
        return "its contents name a table that is not there: " + missing.front();
    }
    const std::vector<std::string> unknown = rows_of(
        handle, "SELECT table_name FROM gpkg_contents WHERE lower(data_type) NOT IN ('features', "
                "'attributes', 'aspatial', 'tiles', '2d-gridded-coverage', 'vector-tiles')");
    return unknown.empty() ? std::string()
                           : "its contents give no known kind for table " + unknown.front();
}

std::string fault_in_index(GDALDataset& dataset, const std::string& layer) {
    sqlite3* handle = handle_of(dataset);
    if (handle == nullptr || std::string_view(dataset.GetDriverName()) != "GPKG") {
        return {};
    }
    const std::vector<std::string> indexes = rows_of(
        handle, "SELECT m.name FROM sqlite_master m JOIN gpkg_geometry_columns g ON lower(m.name) "
                "= lower('rtree_' || g.table_name || '_' || g.column_name) WHERE "
                "lower(g.table_name) = lower(" +
                    base::quoted_sql(layer, '\'') + ")");
    for (const std::string& index : indexes) {
        const std::vector<std::string> said =
            rows_of(handle, "SELECT rtreecheck(" + base::quoted_sql(index, '\'') + ")");
        if (said.front() != "ok") {
            return "spatial index " + index + ": " + said.front();
        }
    }
    return {};
}

std::string untold_system(GDALDataset& dataset, const std::string& layer) {
    sqlite3* handle = handle_of(dataset);
    if (handle == nullptr || std::string_view(dataset.GetDriverName()) != "GPKG") {
        return {};
    }
    // 0 and -1 stand for a plane and a globe that nobody defined.
    const std::vector<std::string> rows =
        rows_of(handle, "SELECT srs_id FROM gpkg_geometry_columns WHERE srs_id NOT IN (0, -1) AND "
                        "lower(table_name) = lower(" +
                            base::quoted_sql(layer, '\'') + ")");
    return rows.empty() ? std::string() : "the file does not tell system " + rows.front();
}

} // namespace loopwalk::gis
