#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/interrupt.hpp"

#include <cpl_string.h>

#include "allowed_sources.hpp"
#include "gdal_error_scope.hpp"
#include "layer_cursor_state.hpp"
#include "sqlite_input.hpp"
#include <algorithm>
#include <cmath>

namespace loopwalk::gis {

namespace {

std::string place(const std::string& dataset, const std::string& layer) {
    return "dataset \"" + dataset + "\", layer \"" + layer + "\"";
}

/// Names that need not be fetched. A name that occurs twice is fetched if either is wanted, since
/// GDAL knows fields by name only.
CPLStringList unwanted(const std::vector<FieldInfo>& fields, const std::vector<std::size_t>& wanted,
                       Layer::WithGeometry geometry) {
    CPLStringList names;
    for (const FieldInfo& field : fields) {
        const bool needed = std::any_of(wanted.begin(), wanted.end(), [&](std::size_t i) {
            return EQUAL(fields[i].name.c_str(), field.name.c_str());
        });
        if (!needed) {
            names.AddString(field.name.c_str());
        }
    }
    names.AddString("OGR_STYLE");
    if (geometry == Layer::WithGeometry::no) {
        names.AddString("OGR_GEOMETRY");
    }
    return names;
}

} // namespace

Layer::Layer(std::unique_ptr<State> state) : m_state(std::move(state)) {}
Layer::Layer(Layer&&) noexcept = default;
Layer& Layer::operator=(Layer&&) noexcept = default;
Layer::~Layer() = default;

const std::string& Layer::name() const noexcept {
    return m_state->name;
}

const std::string& Layer::dataset_name() const noexcept {
    return m_state->dataset_name;
}

const std::string& Layer::schema() const noexcept {
    return m_state->schema;
}

const std::vector<FieldInfo>& Layer::fields() const noexcept {
    return m_state->fields;
}

std::optional<std::size_t> Layer::find_field(std::string_view name) const noexcept {
    std::optional<std::size_t> found;
    for (std::size_t i = 0; i < m_state->fields.size(); ++i) {
        const std::string& field = m_state->fields[i].name;
        if (field == name) {
            return i;
        }
        if (!found.has_value() && field.size() == name.size() &&
            EQUALN(field.data(), name.data(), name.size())) {
            found = i;
        }
    }
    return found;
}

bool Layer::has_geometry() const noexcept {
    return m_state->place_fields.has_value() || m_state->layer->GetGeomType() != wkbNone;
}

bool Layer::has_null_numbers() const noexcept {
    return m_state->has_null_numbers;
}

const Crs& Layer::crs() const noexcept {
    return m_state->crs;
}

const std::string& Layer::crs_fault() const noexcept {
    return m_state->crs_fault;
}

void Layer::place_by(std::size_t x, std::size_t y, base::DecimalMark mark) {
    LW_ASSERT(!has_geometry() && x < m_state->fields.size() && y < m_state->fields.size());
    m_state->place_fields = {static_cast<int>(x), static_cast<int>(y), mark};
}

void Layer::assign_crs(const Crs& crs) {
    m_state->crs = crs;
    m_state->crs_assigned = true;
}

std::int64_t Layer::count() {
    {
        const GdalErrorScope errors;
        const GIntBig count = m_state->layer->GetFeatureCount(TRUE);
        stop_if_asked();
        if (errors.failed()) { // a second pass would not tell again what is wrong
            throw base::InputError(place(dataset_name(), name()) +
                                   " cannot be counted: " + errors.text() +
                                   ". The file may be damaged: restore or export it anew");
        }
        if (count >= 0) {
            return count;
        }
    }
    LayerCursor cursor = read({}, WithGeometry::no); // some drivers cannot tell
    std::int64_t count = 0;
    while (cursor.next()) {
        ++count;
    }
    return count;
}

std::optional<base::Box> Layer::extent() {
    if (m_state->place_fields) {
        return extent_of_places();
    }
    const GdalErrorScope quiet; // no extent is an answer
    OGREnvelope box;
    const bool is_known =
        has_geometry() && m_state->layer->GetExtent(&box, TRUE) == OGRERR_NONE && box.IsInit();
    stop_if_asked();
    if (!is_known) {
        return std::nullopt;
    }
    if (!std::isfinite(box.MinX) || !std::isfinite(box.MinY) || !std::isfinite(box.MaxX) ||
        !std::isfinite(box.MaxY)) {
        return std::nullopt;
    }
    return base::Box{box.MinX, box.MinY, box.MaxX, box.MaxY};
}

std::optional<base::Box> Layer::extent_of_places() {
    std::optional<base::Box> box;
    LayerCursor cursor = read({}, WithGeometry::yes);
    while (cursor.next()) {
        for (const base::Point2 p : cursor.geometry().points) {
            const base::Box own = box.value_or(base::Box{p.x, p.y, p.x, p.y});
            box = base::Box{std::min(own.min_x, p.x), std::min(own.min_y, p.y),
                            std::max(own.max_x, p.x), std::max(own.max_y, p.y)};
        }
    }
    return box;
}

void Layer::filter(const std::string& where) {
    refuse_statements(where);
    const GdalErrorScope errors;
    OGRLayer& layer = *m_state->layer;
    layer.SetIgnoredFields(nullptr);
    if (where.empty()) {
        layer.SetAttributeFilter(nullptr);
        return;
    }
    bool understood = layer.SetAttributeFilter(where.c_str()) == OGRERR_NONE;
    if (understood) { // databases only look at the filter when they run it
        layer.ResetReading();
        const OGRFeatureUniquePtr first(layer.GetNextFeature());
        understood = first != nullptr || !errors.failed();
    }
    if (!understood) {
        layer.SetAttributeFilter(nullptr);
        throw base::ConfigError(place(dataset_name(), name()) + ": the filter \"" + where +
                                "\" is not understood: " + errors.text() +
                                ". Write it like \"OWNER = 'Council' AND HEIGHT > 5\"");
    }
    m_state->filtered = true;
}

bool Layer::is_count_exact() const noexcept {
    return !m_state->boxed;
}

void Layer::filter(const base::Box& box) {
    if (m_state->place_fields) {
        m_state->box = box;
        m_state->boxed = true;
        return;
    }
    if (const std::string fault = fault_in_index(*m_state->dataset, name()); !fault.empty()) {
        throw base::InputError(place(dataset_name(), name()) + ": " + fault +
                               ". What lies in a box cannot be told: restore the file, or export "
                               "it anew");
    }
    m_state->layer->SetIgnoredFields(nullptr);
    m_state->layer->SetSpatialFilterRect(box.min_x, box.min_y, box.max_x, box.max_y);
    m_state->filtered = true;
    m_state->boxed = true;
}

LayerCursor Layer::read(const std::vector<std::size_t>& fields, WithGeometry geometry) {
    for (const std::size_t field : fields) {
        LW_ASSERT(field < m_state->fields.size());
    }
    const GdalErrorScope quiet; // ignoring is only a matter of speed
    OGRLayer& layer = *m_state->layer;
    std::vector<std::size_t> wanted = fields;
    if (m_state->place_fields) {
        wanted.push_back(static_cast<std::size_t>(m_state->place_fields->x));
        wanted.push_back(static_cast<std::size_t>(m_state->place_fields->y));
    }
    if (m_state->filtered || layer.TestCapability(OLCIgnoreFields) == 0) {
        layer.SetIgnoredFields(nullptr); // some drivers evaluate the filter on what was fetched
    } else {
        // GDAL's signature lacks const; the layer copies the names.
        layer.SetIgnoredFields(
            // NOLINTNEXTLINE(cppcoreguidelines-pro-type-const-cast)
            const_cast<const char**>(unwanted(m_state->fields, wanted, geometry).List()));
    }
    layer.ResetReading();
    return LayerCursor(std::make_unique<LayerCursor::State>(
        LayerCursor::State{FeatureStream(layer, dataset_name(), name()),
                           m_state->fields.size(),
                           {},
                           m_state->place_fields,
                           m_state->box}));
}

} // namespace loopwalk::gis
