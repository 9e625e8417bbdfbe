#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"
#include "loopwalk/gis/output.hpp"

#include <cpl_string.h>
#include <gdal_priv.h>

#include "crs_state.hpp"
#include "database.hpp"
#include "feature_digest.hpp"
#include "finish_output.hpp"
#include "gdal_error_scope.hpp"
#include "gdal_setup.hpp"
#include "gpkg_settings.hpp"
#include "layer_copier_state.hpp"
#include "layer_writer_state.hpp"
#include "output_target.hpp"
#include "read_back.hpp"

namespace loopwalk::gis {

struct OutputDataset::State {
    std::string name;
    std::unique_ptr<OutputTarget> target;
    std::vector<std::string> notes;
    GDALDatasetUniquePtr dataset;
    std::optional<SqliteConnection> database; ///< that of `dataset`
    OutputLayers layers;
    std::string header; ///< what header_query() gives of what was committed
    bool finished = false;

    State(const std::string& path, const std::string& schema, Overwrite overwrite,
          const std::vector<std::string>& inputs)
        : name(base::without_passwords(path)),
          target(make_target(path, schema, overwrite, inputs)) {}
    State(const State&) = delete;
    State& operator=(const State&) = delete;
    ~State() {
        const GdalErrorScope quiet; // given up: the file is about to be removed
        layers.clear();             // their writing has to end before the file is closed
        if (dataset != nullptr) {
            static_cast<void>(dataset->RollbackTransaction());
        }
        dataset.reset();
    }

    void open();
    OutputLayer& add_layer(const std::string& layer, const OGRSpatialReference* reference,
                           const CopyPlan& plan, const std::vector<OutputField>& added);
    void tell_contents();
    void commit();
    void close();
};

namespace {

OGRwkbGeometryType type_of(GeometryKind kind) {
    switch (kind) {
    case GeometryKind::none:
        return wkbNone;
    case GeometryKind::point:
        return wkbPoint;
    case GeometryKind::line:
        return wkbLineString;
    case GeometryKind::multi_line:
        return wkbMultiLineString;
    }
    throw base::InternalError("unknown kind of geometry");
}

void create_column(OGRLayer& layer, const OutputColumn& column, const std::string& target,
                   const GdalErrorScope& errors) {
    OGRFieldDefn definition(column.name.c_str(), column.type);
    definition.SetSubType(column.subtype);
    definition.SetWidth(column.width);
    definition.SetPrecision(column.precision);
    if (layer.CreateField(&definition, FALSE) != OGRERR_NONE) {
        output_failed(target, "field \"" + column.name + "\"", errors.text());
    }
}

/// Empty where the system is unknown.
std::string known_text(const OGRSpatialReference* reference) {
    const Crs crs = crs_of(reference);
    return crs.is_unknown() ? std::string() : crs.text();
}

/// The names that the table is to have, in their order.
std::vector<std::string> columns_of(const CopyPlan& plan, const std::vector<OutputField>& added) {
    std::vector<std::string> names = {plan.key};
    if (!plan.geometry.empty()) {
        names.push_back(plan.geometry);
    }
    for (const OutputColumn& column : plan.columns) {
        names.push_back(column.name);
    }
    for (const OutputField& field : added) {
        names.push_back(field.name);
    }
    return names;
}

} // namespace

void OutputDataset::State::open() {
    const GdalErrorScope errors;
    const GpkgSettings settings;
    GDALDriver* driver = GetGDALDriverManager()->GetDriverByName("GPKG");
    LW_ASSERT(driver != nullptr);
    dataset.reset(driver->Create(target->staging().c_str(), 0, 0, 0, GDT_Unknown, nullptr));
    if (dataset == nullptr || dataset->StartTransaction(FALSE) != OGRERR_NONE) {
        output_failed(name, "creating the file", errors.text());
    }
    // Rows are inserted beside GDAL, within its transaction. Its triggers count each of them.
    database.emplace(static_cast<sqlite3*>(dataset->GetInternalHandle("SQLITE_HANDLE")));
    database->leave_out_triggers();
}

OutputLayer& OutputDataset::State::add_layer(const std::string& layer,
                                             const OGRSpatialReference* reference,
                                             const CopyPlan& plan,
                                             const std::vector<OutputField>& added) {
    LW_ASSERT(!finished);
    if (!layers.empty()) {
        layers.back()->close();
    }
    const GdalErrorScope errors;
    const GpkgSettings settings;
    CPLStringList options;
    options.SetNameValue("FID", plan.key.c_str());
    options.SetNameValue("SPATIAL_INDEX", "NO"); // packed in finish()
    if (!plan.geometry.empty()) {
        options.SetNameValue("GEOMETRY_NAME", plan.geometry.c_str());
    }
    // GDAL's signature lacks const, but the driver copies what it needs.
    // NOLINTNEXTLINE(cppcoreguidelines-pro-type-const-cast)
    auto* const system = const_cast<OGRSpatialReference*>(reference);
    OGRLayer* created =
        dataset->CreateLayer(layer.c_str(), system, plan.geometry_type, options.List());
    if (created == nullptr) {
        output_failed(name, "creating layer \"" + layer + "\"", errors.text());
    }
    for (const OutputColumn& column : plan.columns) {
        create_column(*created, column, name, errors);
    }
    for (const OutputField& field : added) {
        create_column(*created, column_of(field), name, errors);
    }
    if (created->SyncToDisk() != OGRERR_NONE || errors.failed()) { // only now the table is made
        output_failed(name, "creating layer \"" + layer + "\"", errors.text());
    }
    auto output = std::make_unique<OutputLayer>();
    output->target = name;
    output->table = {layer, plan.key, plan.geometry};
    output->columns = columns_of(plan, added);
    output->system = plan.geometry.empty() ? "" : known_text(reference);
    output->types = types_of(*created->GetLayerDefn());
    output->geometry_type = wkbFlatten(plan.geometry_type);
    output->open(*database);
    return *layers.emplace_back(std::move(output));
}

void OutputDataset::State::tell_contents() {
    if (!layers.empty()) {
        layers.back()->close();
    }
    for (const std::unique_ptr<OutputLayer>& layer : layers) {
        try {
            gis::tell_contents(*database, layer->table, layer->written, layer->geometries);
        } catch (const base::OutputError& error) {
            output_failed(name, "telling what layer \"" + layer->table.table + "\" holds",
                          error.what());
        }
    }
}

void OutputDataset::State::commit() {
    const GdalErrorScope errors;
    const GpkgSettings settings;
    // A full disk shows here, after every row was accepted.
    const bool committed = dataset->CommitTransaction() == OGRERR_NONE;
    if (committed) {
        dataset->FlushCache(false);
    }
    if (!committed || errors.failed()) {
        output_failed(name, "committing the rows (disk full?)", errors.text());
    }
    header = ask(*dataset, header_query());
}

void OutputDataset::State::close() {
    const GdalErrorScope errors;
    const GpkgSettings settings;
    database.reset();
    dataset.reset(); // has no result: the error scope is the only witness
    if (errors.failed()) {
        output_failed(name, "closing the file (disk full?)", errors.text());
    }
}

OutputDataset::OutputDataset(const std::string& path, Overwrite overwrite,
                             const std::vector<std::string>& inputs, const std::string& schema) {
    ensure_gdal();
    m_state = std::make_unique<State>(path, schema, overwrite, inputs);
    m_state->open();
}

OutputDataset::OutputDataset(OutputDataset&&) noexcept = default;
OutputDataset& OutputDataset::operator=(OutputDataset&&) noexcept = default;
OutputDataset::~OutputDataset() = default;

LayerWriter OutputDataset::create_layer(const LayerSchema& schema, const Crs& crs) {
    CopyPlan plan;
    plan.key = "fid";
    plan.geometry_type = type_of(schema.geometry);
    plan.geometry = schema.geometry == GeometryKind::none ? "" : "geom";
    const OGRSpatialReference* reference = crs.is_unknown() ? nullptr : &crs.state()->as_given;
    OutputLayer& layer = m_state->add_layer(schema.name, reference, plan, schema.fields);
    layer.index = plan.geometry.empty() ? SpatialIndex::no : schema.index;
    return LayerWriter(std::make_unique<LayerWriter::State>(layer, schema.geometry));
}

namespace {

/// From the front, without the fields that are not copied.
void rewind(OGRLayer& layer, const CopiedLayer& plan, bool is_filtered) {
    const GdalErrorScope quiet; // ignoring is only a matter of speed
    CPLStringList ignored;
    for (const std::string& name : plan.dropped) {
        ignored.AddString(name.c_str());
    }
    // GDAL's signature lacks const; the layer copies the names.
    // NOLINTNEXTLINE(cppcoreguidelines-pro-type-const-cast)
    auto* const names = const_cast<const char**>(ignored.List());
    layer.SetIgnoredFields(is_filtered ? nullptr : names);
    layer.ResetReading();
}

} // namespace

LayerCopier OutputDataset::copy_layer(Layer& source, const std::string& target,
                                      const std::vector<OutputField>& added) {
    return copy_layers({{&source, 0}}, target, added);
}

LayerCopier OutputDataset::copy_layers(const std::vector<CopySource>& sources,
                                       const std::string& target,
                                       const std::vector<OutputField>& added) {
    std::vector<CopiedSource> layers;
    for (const CopySource& source : sources) {
        const Layer::State& from = *source.layer->m_state;
        layers.push_back({from.layer, from.place_fields.has_value()});
    }
    const CopyPlan plan = plan_copy(layers, added);
    const Layer::State& first = *sources.front().layer->m_state;
    const OGRSpatialReference* reference = first.crs_assigned && !first.crs.is_unknown()
                                               ? &first.crs.state()->as_given
                                               : first.layer->GetSpatialRef();
    OutputLayer& layer = m_state->add_layer(target, reference, plan, added);
    layer.index = plan.geometry.empty() ? SpatialIndex::no : SpatialIndex::yes;
    std::vector<CopiedStream> streams;
    for (std::size_t i = 0; i < sources.size(); ++i) {
        const Layer::State& from = *sources[i].layer->m_state;
        rewind(*from.layer, plan.sources[i], from.filtered);
        streams.push_back({FeatureStream(*from.layer, from.dataset_name, from.name),
                           plan.sources[i].fields, sources[i].offset, from.place_fields,
                           Transform(from.crs, first.crs)});
    }
    return LayerCopier(
        std::make_unique<LayerCopier::State>(std::move(streams), layer, plan.columns.size()));
}

void OutputDataset::finish() {
    State& state = *m_state;
    LW_ASSERT(!state.finished);
    state.finished = true;
    state.tell_contents();
    state.commit();
    state.close();
    try {
        write_spatial_indexes(state.target->staging(), state.layers);
        verify_output(state.target->staging(), state.layers, state.header);
    } catch (const base::Interrupted&) {
        throw;
    } catch (const base::Error& error) { // tell of the file that the user knows
        output_failed(state.name, "finishing the file", error.what());
    }
    state.notes = state.target->publish(state.layers);
}

const std::vector<std::string>& OutputDataset::notes() const noexcept {
    return m_state->notes;
}

} // namespace loopwalk::gis
