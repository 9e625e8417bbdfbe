#include "output_layer.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/memory.hpp"

#include "feature_digest.hpp"
#include "gdal_error_scope.hpp"
#include <cmath>

namespace loopwalk::gis {

namespace {

/// The box of a geometry that belongs into the index: not null, not empty, finite.
std::optional<IndexEntry> box_of(const OGRFeature& feature) {
    const OGRGeometry* geometry = feature.GetGeometryRef();
    if (geometry == nullptr || geometry->IsEmpty()) {
        return std::nullopt;
    }
    OGREnvelope box;
    geometry->getEnvelope(&box);
    if (!std::isfinite(box.MinX) || !std::isfinite(box.MaxX) || !std::isfinite(box.MinY) ||
        !std::isfinite(box.MaxY)) {
        return std::nullopt;
    }
    return index_entry(feature.GetFID(), box.MinX, box.MaxX, box.MinY, box.MaxY);
}

bool fits(const OGRFeature& feature, OGRwkbGeometryType layer_type) {
    const OGRGeometry* geometry = feature.GetGeometryRef();
    return geometry == nullptr || layer_type == wkbUnknown ||
           OGR_GT_IsSubClassOf(wkbFlatten(geometry->getGeometryType()), layer_type) != 0;
}

} // namespace

void output_failed(const std::string& target, const std::string& doing, const std::string& why) {
    check_memory(); // then that is the reason, whatever the library calls it
    const bool full = why.find("full") != std::string::npos;
    throw base::OutputError("cannot write \"" + target + "\": " + doing + " failed: " + why +
                            (full ? ". Make room on the disk, or write elsewhere" : ""));
}

void OutputLayer::put() {
    const GdalErrorScope errors;
    const GIntBig given = feature->GetFID();
    if (layer->CreateFeature(feature.get()) != OGRERR_NONE) {
        output_failed(target,
                      "layer \"" + table.table + "\", feature " + std::to_string(feature->GetFID()),
                      errors.text());
    }
    digest += digest_of(*feature, given == OGRNullFID ? feature->GetFID() : given, types);
    ++written;
    mixed_geometry =
        mixed_geometry || !fits(*feature, wkbFlatten(layer->GetLayerDefn()->GetGeomType()));
    if (index == SpatialIndex::yes) {
        if (const std::optional<IndexEntry> box = box_of(*feature)) {
            boxes.push_back(*box);
            ++indexed;
        }
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

void Row::State::set_all_null() {
    for (std::size_t i = 0; i < field_count; ++i) {
        feature->SetFieldNull(first_field + static_cast<int>(i));
    }
}

int Row::State::position(std::size_t field) const {
    LW_ASSERT(field < field_count);
    return first_field + static_cast<int>(field);
}

void Row::set(std::size_t field, double value) {
    LW_ASSERT(std::isfinite(value)); // what was not computed is null
    m_state->feature->SetField(m_state->position(field), value);
}

void Row::set(std::size_t field, std::int64_t value) {
    m_state->feature->SetField(m_state->position(field), static_cast<GIntBig>(value));
}

void Row::set(std::size_t field, std::string_view value) {
    m_state->text.assign(value); // GDAL wants a closing zero
    m_state->feature->SetField(m_state->position(field), m_state->text.c_str());
}

void Row::set_null(std::size_t field) {
    m_state->feature->SetFieldNull(m_state->position(field));
}

} // namespace loopwalk::gis
