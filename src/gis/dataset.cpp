#include "loopwalk/gis/dataset.hpp"

#include "loopwalk/base/error.hpp"

#include <cpl_string.h>
#include <gdal_priv.h>

#include "crs_state.hpp"
#include "gdal_error_scope.hpp"
#include "gdal_setup.hpp"
#include "layer_state.hpp"
#include <algorithm>
#include <filesystem>
#include <unistd.h>

namespace loopwalk::gis {

struct Dataset::State {
    std::string name;
    GDALDatasetUniquePtr dataset;

    ~State() {
        const GdalErrorScope quiet; // read-only: nothing can be lost by closing
        dataset.reset();
    }
};

namespace {

namespace fs = std::filesystem;

bool exists(const std::string& name) {
    std::error_code unused;
    return fs::exists(name, unused);
}

/// A connection string ("PG:dbname=x", "/vsizip/...") rather than a path.
bool is_connection(const std::string& name) {
    return name.starts_with("/vsi") || (name.find(':') != std::string::npos && !exists(name));
}

[[noreturn]] void cannot_open(const std::string& name, const std::string& why) {
    throw base::InputError("cannot open dataset \"" + name + "\": " + why);
}

[[noreturn]] void explain_failure(const std::string& name, const std::string& gdal) {
    if (!is_connection(name) && !exists(name)) {
        cannot_open(name, "there is no such file or folder. Check the path");
    }
    if (exists(name) && ::access(name.c_str(), R_OK) != 0) {
        cannot_open(name, "no permission to read it. Ask for read access");
    }
    cannot_open(name, gdal + ". Give a vector dataset that GDAL " +
                          GDALVersionInfo("RELEASE_NAME") +
                          " can read; if it is one, it is "
                          "damaged: restore or export it anew");
}

GDALDatasetUniquePtr open(const std::string& name) {
    const GdalErrorScope errors;
    CPLStringList options;
    if (EQUAL(CPLGetExtension(name.c_str()), "gml") ||
        EQUAL(CPLGetExtension(name.c_str()), "xml")) {
        options.SetNameValue("WRITE_GFS", "NO"); // else GDAL leaves a file beside the input
    }
    GDALDatasetUniquePtr dataset(
        GDALDataset::Open(name.c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR,
                          nullptr, options.List(), nullptr));
    if (dataset == nullptr) {
        explain_failure(name, errors.text());
    }
    if (exists(name) && dataset->GetLayerCount() == 0) {
        cannot_open(name, "it holds no vector layers");
    }
    return dataset;
}

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

OGRLayer* layer_named(GDALDataset& dataset, const std::string& name) {
    OGRLayer* alike = nullptr;
    for (OGRLayer* layer : dataset.GetLayers()) {
        if (name == layer->GetName()) {
            return layer;
        }
        if (alike == nullptr && EQUAL(name.c_str(), layer->GetName())) {
            alike = layer;
        }
    }
    // A database knows tables that it does not list ("schema.table").
    return alike != nullptr ? alike : dataset.GetLayerByName(name.c_str());
}

} // namespace

Dataset::Dataset(const std::string& name) {
    ensure_gdal();
    m_state = std::make_unique<State>();
    m_state->name = name;
    m_state->dataset = open(name);
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
    for (OGRLayer* layer : m_state->dataset->GetLayers()) {
        names.emplace_back(layer->GetName());
    }
    return names;
}

std::optional<Layer> Dataset::find_layer(std::string_view name) {
    const GdalErrorScope quiet; // absence is an answer
    OGRLayer* layer = layer_named(*m_state->dataset, std::string(name));
    if (layer == nullptr) {
        return std::nullopt;
    }
    auto state = std::make_unique<Layer::State>();
    state->layer = layer;
    state->dataset_name = m_state->name;
    state->name = layer->GetName();
    state->fields = fields_of(*layer);
    state->crs = crs_of(layer->GetSpatialRef());
    return Layer(std::move(state));
}

std::vector<std::string> Dataset::files() const {
    const GdalErrorScope quiet;
    std::vector<std::string> files;
    const CPLStringList listed(m_state->dataset->GetFileList());
    files.reserve(static_cast<std::size_t>(listed.Count()) + 2);
    for (int i = 0; i < listed.Count(); ++i) {
        files.emplace_back(listed[i]);
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
