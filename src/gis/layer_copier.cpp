#include "loopwalk/base/error.hpp"

#include <cpl_conv.h>
#include <ogr_geometry.h>

#include "feature_digest.hpp"
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

// NOLINTBEGIN(cppcoreguidelines-pro-type-union-access): so GDAL holds the values of a feature
/// A value of a type that GeoPackages have too.
void take(const OGRField& raw, OGRFieldType type, StoredValue& target) {
    if (type == OFTInteger) {
        target.set(std::int64_t{raw.Integer});
    } else if (type == OFTInteger64) {
        target.set(std::int64_t{raw.Integer64});
    } else if (type == OFTReal) {
        target.set(raw.Real);
    } else if (type == OFTString) {
        target.set(std::string_view(raw.String));
    } else if (type == OFTDate) {
        target.set_date(raw);
    } else if (type == OFTDateTime) {
        target.set_moment(raw);
    } else {
        LW_ASSERT(type == OFTBinary);
        target.set_block({reinterpret_cast<const char*>(raw.Binary.paData),
                          static_cast<std::size_t>(raw.Binary.nCount)});
    }
}
// NOLINTEND(cppcoreguidelines-pro-type-union-access)

void transfer(const OGRFeature& source, const CopiedField& field, StoredValue& target) {
    const OGRField& raw = *source.GetRawFieldRef(field.from);
    if (is_null_value(raw)) {
        target.set_null();
        return;
    }
    switch (field.transfer) {
    case Transfer::as_stored:
        take(raw, field.type, target);
        break;
    case Transfer::as_real:
        target.set(source.GetFieldAsDouble(field.from));
        break;
    case Transfer::as_text:
        target.set(std::string_view(source.GetFieldAsString(field.from)));
        break;
    case Transfer::as_json: {
        const std::unique_ptr<char, FreeText> text(source.GetFieldAsSerializedJSon(field.from));
        target.set(std::string_view(text.get()));
        break;
    }
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
}
LayerCopier::LayerCopier(LayerCopier&&) noexcept = default;
LayerCopier& LayerCopier::operator=(LayerCopier&&) noexcept = default;
LayerCopier::~LayerCopier() = default;

bool LayerCopier::next() {
    State& state = *m_state;
    OGRFeature* source = state.sources[state.source].stream.next();
    while (source == nullptr && state.source + 1 < state.sources.size()) {
        source = state.sources[++state.source].stream.next();
    }
    if (source == nullptr) {
        return false;
    }
    const CopiedStream& from = state.sources[state.source];
    state.fid = source->GetFID() + from.offset;
    std::vector<StoredValue>& row = state.layer.start_row();
    for (const CopiedField& field : from.fields) {
        transfer(*source, field, row[static_cast<std::size_t>(field.to)]);
    }
    if (!state.layer.table.geometry.empty()) {
        state.geometry = moved(geometry_of(*source, from), from.transform);
    }
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
    const std::int64_t fid = m_state->fid;
    m_state->layer.put(fid == OGRNullFID ? std::nullopt : std::optional(fid),
                       m_state->geometry.get());
}

} // namespace loopwalk::gis
