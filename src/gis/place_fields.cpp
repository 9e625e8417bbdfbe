// Points of tables: coordinates that stand in fields.
#include "layer_state.hpp"
#include <cmath>

namespace loopwalk::gis {

namespace {

constexpr double kFarthest = 1e12; ///< as for stored geometry

std::optional<double> coordinate(const OGRFeature& feature, int field, base::DecimalMark mark) {
    if (!feature.IsFieldSetAndNotNull(field)) {
        return std::nullopt;
    }
    const OGRFieldType type = feature.GetDefnRef()->GetFieldDefn(field)->GetType();
    if (type == OFTReal || type == OFTInteger || type == OFTInteger64) {
        return feature.GetFieldAsDouble(field);
    }
    const base::WrittenNumber number =
        base::read_written_number(feature.GetFieldAsString(field), mark);
    const bool is_plain =
        number.state == base::WrittenNumber::State::number && number.unit == nullptr;
    return is_plain ? std::optional(number.value) : std::nullopt;
}

std::string text_of(const OGRFeature& feature, int field) {
    return feature.IsFieldSetAndNotNull(field) ? feature.GetFieldAsString(field) : "";
}

} // namespace

Geometry place_in(const OGRFeature& feature, const PlaceFields& fields) {
    Geometry geometry;
    const auto x = coordinate(feature, fields.x, fields.mark);
    const auto y = coordinate(feature, fields.y, fields.mark);
    geometry.kind_name = "POINT";
    if (!x || !y) {
        geometry.state = GeometryState::no_number;
        geometry.kind_name = text_of(feature, x ? fields.y : fields.x);
    } else if (!(std::abs(*x) <= kFarthest) || !(std::abs(*y) <= kFarthest)) {
        geometry.state = GeometryState::not_finite;
    } else {
        geometry.state = GeometryState::usable;
        geometry.points = {{*x, *y}};
    }
    return geometry;
}

} // namespace loopwalk::gis
