#include <cpl_conv.h>

#include "gdal_error_scope.hpp"
#include "geometry_reading.hpp"
#include "layer_copier_state.hpp"
#include <utility>

namespace loopwalk::gis {

namespace {

struct FreeText {
    void operator()(char* text) const noexcept { CPLFree(text); }
};

void transfer(OGRFeature& source, const CopiedField& field, OGRFeature& target, int to) {
    if (field.transfer == Transfer::move) {
        // Both fields have the same type, so each feature frees what it then holds in the right
        // way; no text is copied.
        std::swap(*source.GetRawFieldRef(field.from), *target.GetRawFieldRef(to));
    } else if (!source.IsFieldSetAndNotNull(field.from)) {
        target.SetFieldNull(to);
    } else if (field.transfer == Transfer::as_json) {
        const std::unique_ptr<char, FreeText> text(source.GetFieldAsSerializedJSon(field.from));
        target.SetField(to, text.get());
    } else {
        target.SetField(to, source.GetFieldAsString(field.from));
    }
}

} // namespace

LayerCopier::LayerCopier(std::unique_ptr<State> state) : m_state(std::move(state)) {
    m_state->row.m_state = &m_state->row_state;
}
LayerCopier::LayerCopier(LayerCopier&&) noexcept = default;
LayerCopier& LayerCopier::operator=(LayerCopier&&) noexcept = default;
LayerCopier::~LayerCopier() = default;

bool LayerCopier::next() {
    State& state = *m_state;
    OGRFeature* source = state.stream.next();
    if (source == nullptr) {
        return false;
    }
    OGRFeature& target = *state.layer.feature;
    state.fid = source->GetFID();
    target.SetFID(source->GetFID());
    int to = 0;
    for (const CopiedField& field : state.fields) {
        transfer(*source, field, target, to++);
    }
    if (!state.layer.table.geometry.empty()) {
        OGRGeometryUniquePtr geometry(source->StealGeometry());
        if (geometry != nullptr && !has_usable_coordinates(*geometry)) {
            geometry.reset(); // no box and no index could hold it; a finding tells of it
        }
        target.SetGeometryDirectly(geometry.release());
    }
    state.row_state.set_all_null();
    return true;
}

std::int64_t LayerCopier::fid() const noexcept {
    return m_state->fid;
}

Row& LayerCopier::row() {
    return m_state->row;
}

void LayerCopier::write() {
    m_state->layer.put();
}

} // namespace loopwalk::gis
