#include "finish_output.hpp"

#include "loopwalk/base/error.hpp"

#include "read_back.hpp"
#include "sqlite_connection.hpp"
#include "sqlite_value.hpp"
#include <atomic>
#include <cstddef>
#include <future>
#include <utility>

namespace loopwalk::gis {

namespace {

void must_agree(const OutputLayer& layer, const char* what, std::int64_t found,
                std::int64_t written) {
    if (found != written) {
        output_failed(layer.target, "the check of the written file",
                      "layer \"" + layer.table.table + "\" holds " + std::to_string(found) + " " +
                          what + ", " + std::to_string(written) + " were written");
    }
}

/// Each value read back is the one that was given to be written.
void compare_contents(SqliteConnection& database, const OutputLayer& layer) {
    const TableContents found = contents_of(database, layer);
    const auto differ = [&layer](const std::string& how) {
        output_failed(layer.target, "the check of the written file",
                      "layer \"" + layer.table.table + "\": " + how);
    };
    if (found.columns != layer.columns) {
        differ("its columns are not those that were made");
    }
    must_agree(layer, "rows", found.rows, layer.written);
    if (found.digest != layer.digest) {
        differ("the values read back are not those that were written");
    }
}

/// Takes layers until none is left.
void compare_next(const std::string& path, const OutputLayers& layers,
                  std::atomic<std::size_t>& next) {
    SqliteConnection database(path, SqliteMode::read_only);
    for (std::size_t i = next++; i < layers.size(); i = next++) {
        compare_contents(database, *layers[i]);
    }
}

/// By two threads: nothing else is left to do meanwhile. By one if there is no other to be had.
void compare_all(const std::string& path, const OutputLayers& layers) {
    std::atomic<std::size_t> next{0};
    std::future<void> other = std::async(std::launch::async | std::launch::deferred,
                                         [&] { compare_next(path, layers, next); });
    compare_next(path, layers, next);
    other.get();
}

/// GDAL writes "undefined" for a system that it cannot look up at that moment. One that has no
/// number may come back under another name.
void compare_system(const OutputLayer& layer, const Crs& found) {
    const bool has_number = layer.system.starts_with("EPSG:");
    const bool is_lost = !layer.system.empty() && found.is_unknown();
    if (is_lost || (has_number && found.text() != layer.system)) {
        output_failed(layer.target, "the check of the written file",
                      "layer \"" + layer.table.table + "\" is in the system " +
                          (is_lost ? "\"unknown\"" : found.text()) + ", not " + layer.system);
    }
}

void compare_header(SqliteConnection& database, const std::string& header) {
    // GeoPackage 1.2.1, clause 1.1.1.1.1. GDAL goes on where it could not write them.
    constexpr std::int64_t kGeoPackage = 0x47504B47; // "GPKG"
    constexpr std::int64_t kVersion = 10200;
    if (database.integer("PRAGMA application_id") != kGeoPackage ||
        database.integer("PRAGMA user_version") < kVersion) {
        throw base::OutputError("the file does not say that it is a GeoPackage");
    }
    SqliteStatement row(database, header_query());
    if (!row.next() || SqliteValue(row.value(0)).bytes() != header) {
        throw base::OutputError("layers, columns or coordinate systems read back are not those "
                                "that were written");
    }
}

} // namespace

void write_spatial_indexes(const std::string& path, OutputLayers& layers) {
    SqliteConnection database(path, SqliteMode::read_write);
    // The file has not its final name yet and is synced before it gets it, so a journal would
    // only guard what is thrown away on failure.
    database.execute("PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF; BEGIN");
    for (const std::unique_ptr<OutputLayer>& layer : layers) {
        if (layer->index == SpatialIndex::yes) {
            write_spatial_index(database, layer->table, std::move(layer->boxes));
        }
    }
    database.execute("COMMIT");
}

void verify_output(const std::string& path, const OutputLayers& layers, const std::string& header) {
    Dataset dataset(path);
    SqliteConnection database(path, SqliteMode::read_only);
    compare_header(database, header);
    for (const std::unique_ptr<OutputLayer>& layer : layers) {
        std::optional<Layer> reopened = dataset.find_layer(layer->table.table);
        must_agree(*layer, "layers of that name", reopened.has_value() ? 1 : 0, 1);
        must_agree(*layer, "features by its own record", reopened->count(), layer->written);
        compare_system(*layer, reopened->crs());
        if (layer->index == SpatialIndex::yes) {
            must_agree(*layer, "features in its spatial index",
                       indexed_rows(database, layer->table), layer->indexed);
        }
    }
    compare_all(path, layers);
}

} // namespace loopwalk::gis
