#include "loopwalk/gis/crs.hpp"

#include "loopwalk/base/error.hpp"

#include <cpl_string.h>

#include "crs_state.hpp"
#include "gdal_error_scope.hpp"
#include "gdal_setup.hpp"
#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

namespace loopwalk::gis {

namespace {

std::string text_of(const OGRSpatialReference& reference) {
    const char* authority = reference.GetAuthorityName(nullptr);
    const char* code = reference.GetAuthorityCode(nullptr);
    if (authority != nullptr && code != nullptr) {
        return std::string(authority) + ":" + code;
    }
    const char* name = reference.GetName();
    return name != nullptr ? name : "unnamed";
}

CrsKind kind_of(const OGRSpatialReference& reference) {
    if (reference.IsProjected() != 0) {
        return CrsKind::projected;
    }
    return reference.IsGeographic() != 0 ? CrsKind::geographic : CrsKind::planar;
}

/// GeoPackage srs_id 0 and -1, which GDAL hands out as named systems.
bool is_undefined(const OGRSpatialReference& reference) {
    const char* name = reference.GetName();
    return name == nullptr || std::string_view(name).starts_with("Undefined ") ||
           std::string_view(name).starts_with("undefined ");
}

Crs planar_metres() {
    OGRSpatialReference local;
    local.SetLocalCS("Local plane in metres");
    local.SetLinearUnits("metre", 1.0);
    return crs_of(&local);
}

/// Centre of the box as longitude and latitude of the system's own datum, degrees.
base::Point2 geographic_centre(const Crs& crs, const OGRSpatialReference& geographic,
                               const base::Box& box) {
    base::Point2 centre{box.min_x + (box.max_x - box.min_x) / 2.0,
                        box.min_y + (box.max_y - box.min_y) / 2.0};
    const Transform transform(crs, crs_of(&geographic));
    const bool usable = transform.apply({&centre, 1});
    const double to_degrees = geographic.GetAngularUnits(nullptr) * 180.0 / M_PI;
    centre = {centre.x * to_degrees, centre.y * to_degrees};
    if (!usable || !(std::abs(centre.x) <= 360.0) || !(std::abs(centre.y) <= 90.0)) {
        throw base::InputError("the coordinates do not fit their coordinate system " + crs.text() +
                               ": check which system the layer is really in");
    }
    return centre;
}

} // namespace

Crs crs_of(const OGRSpatialReference* reference) {
    if (reference == nullptr || is_undefined(*reference)) {
        return {};
    }
    const GdalErrorScope quiet;
    auto state = std::make_shared<Crs::State>();
    state->as_given = *reference;
    state->as_given.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    state->plane = state->as_given;
    state->plane.StripVertical();
    state->plane.DemoteTo2D(nullptr);
    state->plane.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    state->kind = kind_of(state->plane);
    const double unit = state->plane.GetLinearUnits();
    if (state->kind != CrsKind::geographic && std::isfinite(unit) && unit > 0.0) {
        state->metres_per_unit = unit;
    }
    state->text = text_of(state->as_given);
    return Crs(std::move(state));
}

Crs Crs::from_text(const std::string& text) {
    ensure_gdal();
    const GdalErrorScope errors;
    CPLStringList options; // a coordinate system is a name or a definition, never a file or address
    options.SetNameValue("ALLOW_NETWORK_ACCESS", "NO");
    options.SetNameValue("ALLOW_FILE_ACCESS", "NO");
    OGRSpatialReference reference;
    if (reference.SetFromUserInput(text.c_str(), options.List()) != OGRERR_NONE) {
        must_have_systems();
        throw base::ConfigError("\"" + text + "\" is not a known coordinate system (" +
                                errors.text() + "): give a code such as \"EPSG:27700\" or WKT");
    }
    return crs_of(&reference);
}

bool Crs::is_geographic() const noexcept {
    return m_state != nullptr && m_state->kind == CrsKind::geographic;
}

double Crs::metres_per_unit() const noexcept {
    return m_state != nullptr ? m_state->metres_per_unit : 1.0;
}

bool Crs::same_as(const Crs& other) const noexcept {
    if (m_state == other.m_state) {
        return true;
    }
    if (m_state == nullptr || other.m_state == nullptr) {
        return false;
    }
    static constexpr std::array<const char*, 3> kOptions{"IGNORE_DATA_AXIS_TO_SRS_AXIS_MAPPING=YES",
                                                         "IGNORE_COORDINATE_EPOCH=YES", nullptr};
    return m_state->plane.IsSame(&other.m_state->plane, kOptions.data()) != 0;
}

std::string Crs::text() const {
    return m_state != nullptr ? m_state->text : "unknown";
}

Crs working_crs(const Crs& crs, const base::Box& box) {
    constexpr double kSameUnit = 1e-9;
    if (crs.is_unknown()) {
        return crs;
    }
    const Crs::State& state = *crs.state();
    const bool in_metres = std::abs(state.metres_per_unit - 1.0) < kSameUnit;
    if (state.kind != CrsKind::geographic && in_metres) {
        return crs;
    }
    if (state.kind == CrsKind::planar) {
        return planar_metres();
    }
    const GdalErrorScope quiet;
    const std::unique_ptr<OGRSpatialReference> geographic(state.plane.CloneGeogCS());
    geographic->SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    const base::Point2 centre = geographic_centre(crs, *geographic, box);
    const double longitude = std::remainder(centre.x, 360.0);
    const int zone = std::clamp(static_cast<int>(std::floor((longitude + 180.0) / 6.0)) + 1, 1, 60);
    OGRSpatialReference utm; // on the data's own datum: no datum shift can lose accuracy
    utm.CopyGeogCSFrom(geographic.get());
    utm.SetUTM(zone, centre.y >= 0.0 ? TRUE : FALSE);
    utm.AutoIdentifyEPSG(); // only for the name: failing changes nothing
    return crs_of(&utm);
}

} // namespace loopwalk::gis
