#include "loopwalk/gis/dataset.hpp"

#include "loopwalk/base/text.hpp"

#include <cpl_string.h>
#include <gdal_priv.h>

#include "crs_state.hpp"
#include "database.hpp"
#include "gdal_error_scope.hpp"
#include "gdal_setup.hpp"
#include "layer_state.hpp"
#include "open_parts.hpp"
#include <algorithm>
#include <filesystem>

namespace loopwalk::gis {

struct Dataset::State {
    std::string name;
    std::vector<DatasetPart> parts;
};

namespace {

namespace fs = std::filesystem;

FieldKind kind_of(const OGRFieldDefn& field) {
    const OGRFieldType type = field.GetType();
    if (type == OFTInteger || type == OFTInteger64) {
        return field.GetSubType() == OFSTBoolean ? FieldKind::boolean : FieldKind::integer;
    }
    if (type == OFTReal) {
        return FieldKind::real;
    }
    if (type == OFTDate || type == OFTTime || type == OFTDateTime) {
        return FieldKind::date;
    }
    return type == OFTString ? FieldKind::text : FieldKind::other;
}

std::vector<FieldInfo> fields_of(OGRLayer& layer) {
    std::vector<FieldInfo> fields;
    const OGRFeatureDefn& definition = *layer.GetLayerDefn();
    for (int i = 0; i < definition.GetFieldCount(); ++i) {
        const OGRFieldDefn& field = *definition.GetFieldDefn(i);
        fields.push_back({field.GetNameRef(), kind_of(field)});
    }
    return fields;
}

struct FoundLayer {
    OGRLayer* layer = nullptr;
    const DatasetPart* part = nullptr;
};

/// The layer of that name, an exact match first. Of the files of a folder the name counts as well.
FoundLayer layer_named(const std::vector<DatasetPart>& parts, const std::string& name) {
    FoundLayer alike;
    for (const DatasetPart& part : parts) {
        const bool is_file =
            part.dataset->GetLayerCount() == 1 && EQUAL(name.c_str(), part.stem.c_str());
        for (OGRLayer* layer : part.dataset->GetLayers()) {
            if (name == layer->GetName()) {
                return {layer, &part};
            }
            if (alike.layer == nullptr && (is_file || EQUAL(name.c_str(), layer->GetName()))) {
                alike = {layer, &part};
            }
        }
    }
    for (auto part = parts.begin(); alike.layer == nullptr && part != parts.end(); ++part) {
        // A database knows tables that it does not list ("schema.table").
        alike = {part->dataset->GetLayerByName(name.c_str()), &*part};
    }
    return alike;
}

/// Drivers whose numbers cannot be null: what was null stands there as 0.
bool has_null_numbers(const DatasetPart& part) {
    return !EQUAL(part.dataset->GetDriverName(), "MapInfo File");
}

/// GDAL names a table of another schema than the current one "schema.table".
std::string schema_of(GDALDataset& dataset, const std::string& layer) {
    if (!EQUAL(dataset.GetDriverName(), "PostgreSQL")) {
        return {};
    }
    const std::size_t dot = layer.find('.');
    return schema_identity(dataset, dot == std::string::npos
                                        ? ask(dataset, "SELECT current_schema()")
                                        : layer.substr(0, dot));
}

} // namespace

Dataset::Dataset(const std::string& name, const std::vector<std::string>& options) {
    ensure_gdal();
    m_state = std::make_unique<State>();
    m_state->name = base::without_passwords(name);
    m_state->parts = open_parts(name, options);
}

Dataset::Dataset(Dataset&&) noexcept = default;
Dataset& Dataset::operator=(Dataset&&) noexcept = default;
Dataset::~Dataset() = default;

const std::string& Dataset::name() const noexcept {
    return m_state->name;
}

std::vector<std::string> Dataset::layer_names() const {
    const GdalErrorScope quiet; // a layer whose header is damaged fails when it is read
    std::vector<std::string> names;
    for (const DatasetPart& part : m_state->parts) {
        for (OGRLayer* layer : part.dataset->GetLayers()) {
            names.emplace_back(layer->GetName());
        }
    }
    return names;
}

std::optional<Layer> Dataset::find_layer(std::string_view name) {
    const GdalErrorScope quiet; // absence is an answer
    const auto [layer, part] = layer_named(m_state->parts, std::string(name));
    if (layer == nullptr) {
        return std::nullopt;
    }
    auto state = std::make_unique<Layer::State>();
    state->layer = layer;
    state->dataset_name = m_state->name;
    state->name = layer->GetName();
    state->schema = schema_of(*part->dataset, state->name);
    state->fields = fields_of(*layer);
    state->crs = crs_of(layer->GetSpatialRef());
    state->has_null_numbers = has_null_numbers(*part);
    return Layer(std::move(state));
}

std::vector<std::string> Dataset::files() const {
    const GdalErrorScope quiet;
    std::vector<std::string> files;
    for (const DatasetPart& part : m_state->parts) {
        const CPLStringList listed(part.dataset->GetFileList());
        for (int i = 0; i < listed.Count(); ++i) {
            files.emplace_back(listed[i]);
        }
    }
    std::error_code unreadable; // then the opening has failed already
    const bool any = std::any_of(files.begin(), files.end(), [&](const std::string& file) {
        return fs::is_regular_file(file, unreadable);
    });
    if (!any && fs::is_directory(m_state->name, unreadable)) { // a folder of CSV files
        for (const fs::directory_entry& entry : fs::directory_iterator(m_state->name, unreadable)) {
            files.push_back(entry.path().string());
        }
    }
    files.push_back(m_state->name);
    files.push_back(m_state->name + "-wal"); // commits that are not yet in the file itself
    for (const char* sidecar :
         {"csvt", "prj", "cpg", "gfs", "xsd"}) { // GDAL does not list them all
        files.push_back(fs::path(m_state->name).replace_extension(sidecar).string());
    }
    std::erase_if(files, [](const std::string& file) {
        std::error_code error;
        return !fs::is_regular_file(file, error) || fs::file_size(file, error) == 0;
    });
    std::sort(files.begin(), files.end());
    files.erase(std::unique(files.begin(), files.end()), files.end());
    return files;
}

} // namespace loopwalk::gis
