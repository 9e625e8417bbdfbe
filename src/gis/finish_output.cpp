#include "finish_output.hpp"

#include "loopwalk/base/error.hpp"

#include <gdal_priv.h>

#include "feature_digest.hpp"
#include "gdal_error_scope.hpp"
#include "sqlite_connection.hpp"
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

GDALDatasetUniquePtr reopened_raw(const std::string& path) {
    const GdalErrorScope errors;
    GDALDatasetUniquePtr dataset(
        GDALDataset::Open(path.c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR));
    if (dataset == nullptr) {
        output_failed(path, "reading the written rows again", errors.text());
    }
    return dataset;
}

/// Each value read back is the one that was given to be written.
void compare_contents(GDALDataset& dataset, const OutputLayer& layer) {
    const GdalErrorScope errors;
    OGRLayer* rows = dataset.GetLayerByName(layer.table.table.c_str());
    LW_ASSERT(rows != nullptr); // looked for a moment ago
    std::uint64_t digest = 0;
    for (const OGRFeatureUniquePtr& feature : *rows) {
        digest += digest_of(*feature);
    }
    if (errors.failed()) {
        output_failed(layer.target, "reading the written rows again", errors.text());
    }
    if (digest != layer.digest) {
        output_failed(layer.target, "the check of the written file",
                      "the values read back from layer \"" + layer.table.table +
                          "\" are not those that were written");
    }
}

/// A shapefile that says "line" may hold multi-lines; a GeoPackage must not.
void widen_geometry_type(SqliteConnection& database, const OutputLayer& layer) {
    SqliteStatement widen(database, "UPDATE gpkg_geometry_columns SET geometry_type_name = "
                                    "'GEOMETRY' WHERE table_name = ?");
    widen.bind(1, layer.table.table);
    widen.run();
}

} // namespace

void write_spatial_indexes(const std::string& path, OutputLayers& layers) {
    SqliteConnection database(path, SqliteMode::read_write);
    // The file has not its final name yet and is synced before it gets it, so a journal would
    // only guard what is thrown away on failure.
    database.execute("PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF; BEGIN");
    for (const std::unique_ptr<OutputLayer>& layer : layers) {
        if (layer->mixed_geometry) {
            widen_geometry_type(database, *layer);
        }
        if (layer->index == SpatialIndex::yes) {
            write_spatial_index(database, layer->table, std::move(layer->boxes));
        }
    }
    database.execute("COMMIT");
}

void verify_output(const std::string& path, const OutputLayers& layers) {
    Dataset dataset(path);
    const GDALDatasetUniquePtr raw = reopened_raw(path);
    SqliteConnection database(path, SqliteMode::read_only);
    for (const std::unique_ptr<OutputLayer>& layer : layers) {
        std::optional<Layer> reopened = dataset.find_layer(layer->table.table);
        must_agree(*layer, "layers of that name", reopened.has_value() ? 1 : 0, 1);
        must_agree(*layer, "features by its own record", reopened->count(), layer->written);
        must_agree(*layer, "rows",
                   database.integer("SELECT count(*) FROM " + sql_name(layer->table.table)),
                   layer->written);
        compare_contents(*raw, *layer);
        if (layer->index == SpatialIndex::yes) {
            must_agree(*layer, "features in its spatial index",
                       indexed_rows(database, layer->table), layer->indexed);
        }
    }
}

} // namespace loopwalk::gis
