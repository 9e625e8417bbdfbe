#include "loopwalk/gis/dataset.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include <cpl_string.h>
#include <gdal_priv.h>

#include "crs_state.hpp"
#include "database.hpp"
#include "dataset_files.hpp"
#include "gdal_error_scope.hpp"
#include "gdal_setup.hpp"
#include "layer_state.hpp"
#include "open_parts.hpp"
#include "sqlite_input.hpp"
#include <algorithm>
#include <filesystem>

namespace loopwalk::gis {

struct Dataset::State {
    std::string name;  ///< with stars for a password
    std::string given; ///< as it was named
    std::vector<DatasetPart> parts;
};

namespace {

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

/// A system that is named, but GDAL makes nothing of it, which it does not tell; else empty.
std::string unread_definition(const DatasetPart& part, OGRLayer& layer) {
    namespace fs = std::filesystem;
    if (std::string untold = untold_system(*part.dataset, layer.GetName()); !untold.empty()) {
        return untold;
    }
    if (!EQUAL(part.dataset->GetDriverName(), "ESRI Shapefile")) {
        return {};
    }
    std::error_code none;
    fs::path file = part.dataset.get_deleter().path;
    file = fs::is_directory(file, none) ? file / (std::string(layer.GetName()) + ".prj")
                                        : file.replace_extension("prj");
    return fs::exists(file, none) ? "\"" + file.filename().string() + "\" is empty or damaged"
                                  : std::string();
}

/// The system that a layer states; `fault` tells why it cannot be read although it states one.
Crs system_of(const DatasetPart& part, OGRLayer& layer, std::string& fault) {
    const GdalErrorScope errors;
    Crs crs = crs_of(layer.GetSpatialRef());
    if (crs.is_unknown()) {
        fault = errors.failed() ? errors.text() : unread_definition(part, layer);
    }
    return crs;
}

/// Two files of a folder hold a layer of that name: which is meant cannot be told.
[[noreturn]] void held_twice(const std::string& name, const DatasetPart& a, const DatasetPart& b) {
    throw base::InputError("layer \"" + name + "\" is in two files: \"" +
                           a.dataset.get_deleter().path + "\" and \"" +
                           b.dataset.get_deleter().path +
                           "\". Name the right file in the job, as the dataset of that layer, or "
                           "take the other out of the folder");
}

/// Of one dataset: the layer of that name, an exact match first. Of the files of a folder the name
/// counts as well.
OGRLayer* layer_in(const DatasetPart& part, const std::string& name) {
    const bool is_file =
        part.dataset->GetLayerCount() == 1 && EQUAL(name.c_str(), part.stem.c_str());
    OGRLayer* alike = nullptr;
    for (OGRLayer* layer : part.dataset->GetLayers()) {
        if (name == layer->GetName()) {
            return layer;
        }
        if (alike == nullptr && (is_file || EQUAL(name.c_str(), layer->GetName()))) {
            alike = layer;
        }
    }
    return alike;
}

/// None has no layer.
FoundLayer layer_named(const std::vector<DatasetPart>& parts, const std::string& name) {
    const GdalErrorScope quiet; // absence is an answer
    FoundLayer found;
    for (const DatasetPart& part : parts) {
        OGRLayer* layer = layer_in(part, name);
        if (layer != nullptr && found.layer != nullptr) {
            held_twice(name, *found.part, part);
        }
        if (layer != nullptr) {
            found = {layer, &part};
        }
    }
    for (auto part = parts.begin(); found.layer == nullptr && part != parts.end(); ++part) {
        // A database knows tables that it does not list ("schema.table").
        found = {part->dataset->GetLayerByName(name.c_str()), &*part};
    }
    return found;
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
    m_state->given = name;
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
    const auto [layer, part] = layer_named(m_state->parts, std::string(name));
    if (layer == nullptr) {
        return std::nullopt;
    }
    const GdalErrorScope errors;
    auto state = std::make_unique<Layer::State>();
    state->layer = layer;
    state->dataset = part->dataset.get();
    state->dataset_name = m_state->name;
    state->name = layer->GetName();
    state->schema = schema_of(*part->dataset, state->name);
    state->fields = fields_of(*layer);
    if (errors.failed()) {
        throw base::InputError("dataset \"" + m_state->name + "\", layer \"" + state->name +
                               "\" cannot be read: " + errors.text() +
                               ". The file may be damaged: restore or export it anew");
    }
    state->crs = system_of(*part, *layer, state->crs_fault);
    state->has_null_numbers = has_null_numbers(*part);
    return Layer(std::move(state));
}

std::vector<std::string> Dataset::files() const {
    return files_behind(m_state->given, m_state->parts);
}

} // namespace loopwalk::gis
