#include "feature_digest.hpp"

#include <cpl_conv.h>
#include <cpl_string.h>

#include "gpkg_geometry.hpp"
#include "row_mixer.hpp"
#include <array>
#include <cmath>
#include <string_view>

namespace loopwalk::gis {
namespace {

std::string_view as_text(const unsigned char* bytes, std::size_t count) {
    return {reinterpret_cast<const char*>(bytes), count}; // NOLINT
}

// NOLINTBEGIN(cppcoreguidelines-pro-type-union-access): so GDAL holds the values of a feature
double as_counted(double value, Reals reals) {
    if (reals == Reals::exact || !std::isfinite(value)) {
        return value;
    }
    constexpr int kLongest = 32; // "-1.23456789012345e-308"
    std::array<char, kLongest> text{};
    CPLsnprintf(text.data(), text.size(), "%.15g", value); // with a point in every language
    return CPLAtof(text.data());
}

void add_field(RowMixer& mixer, const OGRFeature& feature, int field, OGRFieldType type,
               Reals reals) {
    const OGRField& raw = *feature.GetRawFieldRef(field);
    if (is_null_value(raw)) {
        mixer.null();
    } else if (type == OFTInteger) {
        mixer.integer(raw.Integer);
    } else if (type == OFTInteger64) {
        mixer.integer(raw.Integer64);
    } else if (type == OFTReal) {
        mixer.real(as_counted(raw.Real, reals));
    } else if (type == OFTString) {
        mixer.text(raw.String);
    } else if (type == OFTDate || type == OFTDateTime) {
        mixer.moment(milliseconds_to(raw));
    } else if (type == OFTBinary) {
        mixer.bytes(as_text(raw.Binary.paData, static_cast<std::size_t>(raw.Binary.nCount)));
    } else { // none in a copied layer: what else there is becomes text (copy_plan.cpp)
        mixer.text(feature.GetFieldAsString(field));
    }
}
// NOLINTEND(cppcoreguidelines-pro-type-union-access)

void add_geometry(RowMixer& mixer, const OGRGeometry* geometry) {
    if (geometry == nullptr) {
        mixer.null();
        return;
    }
    thread_local std::string blob; // kept for the next feature
    to_gpkg(*geometry, 0, blob).mix_into(mixer);
}

} // namespace

bool is_null_value(const OGRField& raw) noexcept {
    const int mark = raw.Set.nMarker1; // NOLINT(cppcoreguidelines-pro-type-union-access)
    return (mark == OGRNullMarker || mark == OGRUnsetMarker) &&
           (OGR_RawField_IsUnset(&raw) != 0 || OGR_RawField_IsNull(&raw) != 0);
}

std::vector<OGRFieldType> types_of(const OGRFeatureDefn& definition) {
    std::vector<OGRFieldType> types;
    for (int i = 0; i < definition.GetFieldCount(); ++i) {
        types.push_back(definition.GetFieldDefn(i)->GetType());
    }
    return types;
}

std::uint64_t digest_of(const OGRFeature& feature, std::int64_t id,
                        const std::vector<OGRFieldType>& types, Reals reals) {
    RowMixer mixer;
    mixer.integer(id);
    if (feature.GetGeomFieldCount() > 0) {
        add_geometry(mixer, feature.GetGeometryRef());
    }
    for (std::size_t i = 0; i < types.size(); ++i) {
        add_field(mixer, feature, static_cast<int>(i), types[i], reals);
    }
    return mixer.state();
}

int first_different_field(const OGRFeature& a, const std::vector<OGRFieldType>& a_types,
                          const OGRFeature& b, const std::vector<OGRFieldType>& b_types,
                          Reals reals) {
    for (std::size_t i = 0; i < a_types.size(); ++i) {
        const int field = static_cast<int>(i);
        RowMixer one;
        RowMixer other;
        add_field(one, a, field, a_types[i], reals);
        add_field(other, b, field, b_types[i], reals);
        if (one.state() != other.state()) {
            return field;
        }
    }
    return -1;
}

} // namespace loopwalk::gis
