#include "geometry_reading.hpp"

#include <ogr_geometry.h>

#include "gdal_error_scope.hpp"
#include <cmath>

namespace loopwalk::gis {

namespace {

enum class Kind : std::uint8_t { point, line, curve, collection, other };

Kind kind_of(const OGRGeometry& geometry) {
    const OGRwkbGeometryType type = wkbFlatten(geometry.getGeometryType());
    if (type == wkbPoint) {
        return Kind::point;
    }
    if (type == wkbLineString) {
        return Kind::line;
    }
    if (type == wkbCircularString || type == wkbCompoundCurve) {
        return Kind::curve;
    }
    const bool collection = type == wkbMultiPoint || type == wkbMultiLineString ||
                            type == wkbMultiCurve || type == wkbGeometryCollection;
    return collection ? Kind::collection : Kind::other;
}

constexpr double kFurthest = 1e12;

bool is_usable(double x, double y) {
    return std::abs(x) <= kFurthest && std::abs(y) <= kFurthest; // false for NaN
}

/// Looks at each vertex, however deep it lies.
class VertexCheck final : public OGRDefaultConstGeometryVisitor {
  public:
    using OGRDefaultConstGeometryVisitor::visit;
    void visit(const OGRPoint* point) override {
        m_usable = m_usable && (point->IsEmpty() || is_usable(point->getX(), point->getY()));
    }
    void visit(const OGRLineString* line) override { look_at(*line); }
    void visit(const OGRLinearRing* ring) override { look_at(*ring); }
    void visit(const OGRCircularString* arc) override { look_at(*arc); }
    [[nodiscard]] bool usable() const noexcept { return m_usable; }

  private:
    void look_at(const OGRSimpleCurve& curve) {
        for (int i = 0; m_usable && i < curve.getNumPoints(); ++i) {
            m_usable = is_usable(curve.getX(i), curve.getY(i));
        }
    }
    bool m_usable = true;
};

/// Gathers points and lines; the state ends as the worst that was met.
class Gatherer {
  public:
    explicit Gatherer(Geometry& into) : m_into(into) {}

    // Recursion is bounded: GDAL's readers refuse collections nested deeper than 32.
    void add(const OGRGeometry& geometry) { // NOLINT(misc-no-recursion)
        switch (kind_of(geometry)) {
        case Kind::point:
            add_point(*geometry.toPoint());
            return;
        case Kind::line:
            add_line(*geometry.toLineString());
            return;
        case Kind::curve:
            add_curve(*geometry.toCurve());
            return;
        case Kind::collection:
            for (const OGRGeometry* part : *geometry.toGeometryCollection()) {
                add(*part);
            }
            return;
        case Kind::other:
            m_wrong_kind = true;
            return;
        }
    }

    void finish() {
        m_into.lines.resize(m_lines);
        const bool mixed = m_lines > 0 && !m_into.points.empty();
        if (m_wrong_kind || mixed) {
            m_into.state = GeometryState::wrong_kind;
        } else if (!m_finite) {
            m_into.state = GeometryState::not_finite;
        } else {
            m_into.state = GeometryState::usable;
        }
        if (m_into.state != GeometryState::usable) {
            m_into.points.clear();
            m_into.lines.clear();
        }
    }

  private:
    void add_point(const OGRPoint& point) {
        if (point.IsEmpty()) {
            return;
        }
        m_finite = m_finite && is_usable(point.getX(), point.getY());
        m_into.points.push_back({point.getX(), point.getY()});
    }

    void add_line(const OGRLineString& source) {
        if (m_lines == m_into.lines.size()) {
            m_into.lines.emplace_back();
        }
        base::Polyline& line = m_into.lines[m_lines++];
        line.resize(static_cast<std::size_t>(source.getNumPoints()));
        if (line.empty()) {
            return;
        }
        constexpr int kStride = sizeof(base::Point2);
        source.getPoints(&line.front().x, kStride, &line.front().y, kStride);
        for (const base::Point2 vertex : line) {
            m_finite = m_finite && is_usable(vertex.x, vertex.y);
        }
    }

    void add_curve(const OGRCurve& curve) {
        if (!has_usable_coordinates(curve)) {
            m_finite = false;
            return;
        }
        const OGRGeometryUniquePtr lines(curve.getLinearGeometry());
        if (lines == nullptr || wkbFlatten(lines->getGeometryType()) != wkbLineString) {
            m_wrong_kind = true;
            return;
        }
        add_line(*lines->toLineString());
    }

    Geometry& m_into;
    std::size_t m_lines = 0;
    bool m_finite = true;
    bool m_wrong_kind = false;
};

} // namespace

bool has_usable_coordinates(const OGRGeometry& geometry) {
    VertexCheck check;
    geometry.accept(&check);
    return check.usable();
}

void read_geometry(const OGRGeometry* geometry, Geometry& into) {
    into.points.clear();
    if (geometry == nullptr) {
        into.lines.clear();
        into.kind_name.clear();
        into.state = GeometryState::none;
        return;
    }
    into.kind_name = geometry->getGeometryName();
    if (geometry->IsEmpty()) {
        into.lines.clear();
        into.state = GeometryState::empty;
        return;
    }
    Gatherer gatherer(into);
    gatherer.add(*geometry);
    gatherer.finish();
}

} // namespace loopwalk::gis
