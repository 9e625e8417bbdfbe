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

} // namespace

LayerWriter::LayerWriter(std::unique_ptr<State> state) : m_state(std::move(state)) {
    m_state->row.m_state = &m_state->row_state;
}
LayerWriter::LayerWriter(LayerWriter&&) noexcept = default;
LayerWriter& LayerWriter::operator=(LayerWriter&&) noexcept = default;
LayerWriter::~LayerWriter() = default;

Row& LayerWriter::row() {
    static_cast<void>(m_state->layer.start_row());
    return m_state->row;
}

void LayerWriter::write() {
    OutputLayer& layer = m_state->layer;
    layer.put(layer.written + 1, nullptr);
}

void LayerWriter::write(base::Point2 point) {
    LW_ASSERT(m_state->kind == GeometryKind::point);
    LW_ASSERT(std::isfinite(point.x) && std::isfinite(point.y));
    const OGRPoint place(point.x, point.y);
    m_state->layer.put(m_state->layer.written + 1, &place);
}

void LayerWriter::write(const std::vector<base::Polyline>& lines) {
    State& state = *m_state;
    LW_ASSERT(state.kind == GeometryKind::line || state.kind == GeometryKind::multi_line);
    if (lines.empty()) {
        write();
        return;
    }
    const std::int64_t key = state.layer.written + 1;
    if (state.kind == GeometryKind::line) {
        set_vertices(state.line, lines.front(), state.vertices);
        state.layer.put(key, &state.line);
        return;
    }
    OGRMultiLineString multi;
    for (const base::Polyline& line : lines) {
        auto part = std::make_unique<OGRLineString>();
        set_vertices(*part, line, state.vertices);
        multi.addGeometryDirectly(part.release());
    }
    state.layer.put(key, &multi);
}

} // namespace loopwalk::gis
