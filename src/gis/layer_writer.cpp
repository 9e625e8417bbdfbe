#include "loopwalk/base/error.hpp"

#include "layer_writer_state.hpp"
#include <cmath>

namespace loopwalk::gis {

namespace {

void set_vertices(OGRLineString& line, const base::Polyline& source,
                  std::vector<OGRRawPoint>& vertices) {
    vertices.clear();
    for (const base::Point2 p : source) {
        LW_ASSERT(std::isfinite(p.x) && std::isfinite(p.y));
        vertices.emplace_back(p.x, p.y);
    }
    line.setPoints(static_cast<int>(vertices.size()), vertices.data());
}

/// Lends the geometry to the feature, so its memory serves every row.
void put_lent(OutputLayer& layer, OGRGeometryUniquePtr& geometry) {
    layer.feature->SetFID(layer.written + 1);
    layer.feature->SetGeometryDirectly(geometry.release());
    layer.put();
    geometry.reset(layer.feature->StealGeometry());
}

} // namespace

LayerWriter::LayerWriter(std::unique_ptr<State> state) : m_state(std::move(state)) {
    m_state->row.m_state = &m_state->row_state;
}
LayerWriter::LayerWriter(LayerWriter&&) noexcept = default;
LayerWriter& LayerWriter::operator=(LayerWriter&&) noexcept = default;
LayerWriter::~LayerWriter() = default;

Row& LayerWriter::row() {
    m_state->row_state.set_all_null();
    return m_state->row;
}

void LayerWriter::write() {
    OutputLayer& layer = m_state->layer;
    layer.feature->SetFID(layer.written + 1);
    layer.put();
}

void LayerWriter::write(base::Point2 point) {
    LW_ASSERT(m_state->kind == GeometryKind::point);
    LW_ASSERT(std::isfinite(point.x) && std::isfinite(point.y));
    if (m_state->geometry == nullptr) {
        m_state->geometry.reset(OGRGeometryFactory::createGeometry(wkbPoint));
    }
    OGRPoint& target = *m_state->geometry->toPoint();
    target.setX(point.x);
    target.setY(point.y);
    put_lent(m_state->layer, m_state->geometry);
}

void LayerWriter::write(const std::vector<base::Polyline>& lines) {
    State& state = *m_state;
    LW_ASSERT(state.kind == GeometryKind::line || state.kind == GeometryKind::multi_line);
    if (lines.empty()) {
        state.geometry.reset();
    } else if (state.kind == GeometryKind::line) {
        if (state.geometry == nullptr) {
            state.geometry.reset(OGRGeometryFactory::createGeometry(wkbLineString));
        }
        set_vertices(*state.geometry->toLineString(), lines.front(), state.vertices);
    } else {
        auto multi = std::make_unique<OGRMultiLineString>();
        for (const base::Polyline& line : lines) {
            auto part = std::make_unique<OGRLineString>();
            set_vertices(*part, line, state.vertices);
            multi->addGeometryDirectly(part.release());
        }
        state.geometry.reset(multi.release());
    }
    put_lent(state.layer, state.geometry);
}

} // namespace loopwalk::gis
