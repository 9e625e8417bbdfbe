#include <cpl_conv.h>
#include <ogr_geometry.h>

#include "gdal_error_scope.hpp"
#include "geometry_reading.hpp"
#include "layer_copier_state.hpp"
#include <array>
#include <utility>

namespace loopwalk::gis {

namespace {

struct FreeText {
    void operator()(char* text) const noexcept { CPLFree(text); }
};

void transfer_number(OGRFeature& source, int from, OGRFeature& target, int to) {
    if (target.GetFieldDefnRef(to)->GetType() == OFTReal) {
        target.SetField(to, source.GetFieldAsDouble(from));
    } else {
        target.SetField(to, source.GetFieldAsInteger64(from));
    }
}

void transfer(OGRFeature& source, const CopiedField& field, OGRFeature& target) {
    const int to = field.to;
    if (field.transfer == Transfer::move) {
        // Both fields have the same type, so each feature frees what it then holds in the right
        // way; no text is copied.
        std::swap(*source.GetRawFieldRef(field.from), *target.GetRawFieldRef(to));
    } else if (!source.IsFieldSetAndNotNull(field.from)) {
        target.SetFieldNull(to);
    } else if (field.transfer == Transfer::as_json) {
        const std::unique_ptr<char, FreeText> text(source.GetFieldAsSerializedJSon(field.from));
        target.SetField(to, text.get());
    } else if (field.transfer == Transfer::as_number) {
        transfer_number(source, field.from, target, to);
    } else {
        target.SetField(to, source.GetFieldAsString(field.from));
    }
}

/// Fields that the next source lacks are null.
void clear_fields(OGRFeature& target) {
    for (int i = 0; i < target.GetFieldCount(); ++i) {
        target.SetFieldNull(i);
    }
}

/// Brings every vertex into another system.
class Mover : public OGRDefaultGeometryVisitor {
  public:
    explicit Mover(const Transform& transform) : m_transform(transform) {}
    using OGRDefaultGeometryVisitor::visit;
    void visit(OGRPoint* point) override {
        if (point->IsEmpty()) {
            return;
        }
        std::array<base::Point2, 1> place{{{point->getX(), point->getY()}}};
        m_done = m_transform.apply(place) && m_done;
        point->setX(place[0].x);
        point->setY(place[0].y);
    }
    [[nodiscard]] bool is_done() const noexcept { return m_done; }

  private:
    const Transform& m_transform;
    bool m_done = true;
};

OGRGeometryUniquePtr geometry_of(OGRFeature& feature, const CopiedStream& from) {
    if (!from.place_fields) {
        return OGRGeometryUniquePtr(feature.StealGeometry());
    }
    const Geometry place = place_in(feature, *from.place_fields);
    if (place.points.empty()) {
        return nullptr;
    }
    const base::Point2 p = place.points.front();
    return OGRGeometryUniquePtr(std::make_unique<OGRPoint>(p.x, p.y).release());
}

/// The geometry as it goes into the output: none where no box and no index could hold it, or where
/// its place in the other system is not known; a finding tells of either.
OGRGeometryUniquePtr moved(OGRGeometryUniquePtr geometry, const Transform& transform) {
    if (geometry == nullptr || !has_usable_coordinates(*geometry)) {
        return nullptr;
    }
    if (transform.is_identity()) {
        return geometry;
    }
    Mover mover(transform);
    geometry->accept(&mover);
    return mover.is_done() ? std::move(geometry) : nullptr;
}

} // namespace

LayerCopier::LayerCopier(std::unique_ptr<State> state) : m_state(std::move(state)) {
    m_state->row.m_state = &m_state->row_state;
    clear_fields(*m_state->layer.feature);
}
LayerCopier::LayerCopier(LayerCopier&&) noexcept = default;
LayerCopier& LayerCopier::operator=(LayerCopier&&) noexcept = default;
LayerCopier::~LayerCopier() = default;

bool LayerCopier::next() {
    State& state = *m_state;
    OGRFeature* source = state.sources[state.source].stream.next();
    while (source == nullptr && state.source + 1 < state.sources.size()) {
        source = state.sources[++state.source].stream.next();
        clear_fields(*state.layer.feature);
    }
    if (source == nullptr) {
        return false;
    }
    const CopiedStream& from = state.sources[state.source];
    OGRFeature& target = *state.layer.feature;
    state.fid = source->GetFID() + from.offset;
    target.SetFID(state.fid);
    OGRGeometryUniquePtr geometry = geometry_of(*source, from); // before its fields move
    for (const CopiedField& field : from.fields) {
        transfer(*source, field, target);
    }
    if (!state.layer.table.geometry.empty()) {
        target.SetGeometryDirectly(moved(std::move(geometry), from.transform).release());
    }
    state.row_state.set_all_null();
    return true;
}

std::int64_t LayerCopier::fid() const noexcept {
    return m_state->fid;
}

std::size_t LayerCopier::source() const noexcept {
    return m_state->source;
}

Row& LayerCopier::row() {
    return m_state->row;
}

void LayerCopier::write() {
    m_state->layer.put();
}

} // namespace loopwalk::gis
