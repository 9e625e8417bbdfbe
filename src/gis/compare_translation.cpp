#include "compare_translation.hpp"

#include <cpl_conv.h>
#include <cpl_string.h>

#include <cmath>
#include <string_view>

namespace loopwalk::gis {
namespace {

// Far coarser than any format writes, far finer than a lost digit in front of the point.
constexpr double kRelative = 1e-9;
constexpr double kAbsolute = 1e-12;
constexpr double kPlace = 1e-7; // of a coordinate: a MapInfo file rounds to its grid

bool is_near(double a, double b, double relative) {
    return std::abs(a - b) <= kAbsolute + relative * std::max(std::abs(a), std::abs(b));
}

std::string_view without_end_blanks(std::string_view text) {
    const std::size_t last = text.find_last_not_of(' ');
    return text.substr(0, last == std::string_view::npos ? 0 : last + 1);
}

/// Formats of fixed columns pad with blanks; a text that is too long is cut, which is told.
bool is_same_text(std::string_view from, std::string_view to, std::size_t longest) {
    return without_end_blanks(from) == without_end_blanks(to) ||
           (longest > 0 && from.size() > longest && from.starts_with(without_end_blanks(to)) &&
            !to.empty());
}

bool is_number(OGRFieldType type) {
    return type == OFTInteger || type == OFTInteger64 || type == OFTReal;
}

double number_in(const OGRFeature& feature, int field) {
    return is_number(feature.GetFieldDefnRef(field)->GetType())
               ? feature.GetFieldAsDouble(field)
               : CPLAtof(feature.GetFieldAsString(field));
}

bool is_blank(const OGRFeature& feature, int field) {
    return !feature.IsFieldSetAndNotNull(field) || *feature.GetFieldAsString(field) == '\0';
}

bool is_same(const OGRFeature& from, int field, const OGRFeature& to, int there,
             const FolderFormat& format) {
    const bool blank = is_blank(from, field);
    if (blank || is_blank(to, there)) {
        return blank && is_blank(to, there);
    }
    const OGRFieldType type = from.GetFieldDefnRef(field)->GetType();
    if (is_number(type)) {
        return is_near(from.GetFieldAsDouble(field), number_in(to, there), kRelative);
    }
    const OGRFieldType there_type = to.GetFieldDefnRef(there)->GetType();
    const bool is_moment =
        there_type == OFTDate || there_type == OFTTime || there_type == OFTDateTime;
    // Moments and bytes are written in as many ways as there are formats.
    return type != OFTString || is_moment ||
           is_same_text(from.GetFieldAsString(field), to.GetFieldAsString(there),
                        format.longest_text);
}

bool is_same_place(const OGRGeometry* from, const OGRGeometry* to) {
    if (from == nullptr || from->IsEmpty() || to == nullptr) {
        return to == nullptr || to->IsEmpty();
    }
    OGREnvelope a;
    OGREnvelope b;
    from->getEnvelope(&a);
    to->getEnvelope(&b);
    return is_near(a.MinX, b.MinX, kPlace) && is_near(a.MaxX, b.MaxX, kPlace) &&
           is_near(a.MinY, b.MinY, kPlace) && is_near(a.MaxY, b.MaxY, kPlace);
}

std::string difference(const OGRFeature& from, const OGRFeature& to, int added,
                       const FolderFormat& format) {
    const std::string which = "feature " + std::to_string(from.GetFID()) + ", ";
    for (int i = 0; i < from.GetFieldCount(); ++i) {
        if (!is_same(from, i, to, i + added, format)) {
            return which + "field " + from.GetFieldDefnRef(i)->GetNameRef() + ": \"" +
                   from.GetFieldAsString(i) + "\" became \"" + to.GetFieldAsString(i + added) +
                   "\"";
        }
    }
    const bool has_place = to.GetGeomFieldCount() > 0 && from.GetGeomFieldCount() > 0;
    if (has_place && !is_same_place(from.GetGeometryRef(), to.GetGeometryRef())) {
        return which + "it lies elsewhere";
    }
    return {};
}

} // namespace

std::string first_difference(OGRLayer& from, OGRLayer& to, const FolderFormat& format) {
    const int added = to.GetLayerDefn()->GetFieldCount() - from.GetLayerDefn()->GetFieldCount();
    const bool leaves_out = from.GetFeatureCount() != to.GetFeatureCount();
    from.ResetReading();
    to.ResetReading();
    for (OGRFeatureUniquePtr one(from.GetNextFeature()); one != nullptr;
         one.reset(from.GetNextFeature())) {
        if (leaves_out && one->GetGeometryRef() == nullptr) {
            continue; // counted and told by the caller
        }
        const OGRFeatureUniquePtr other(to.GetNextFeature());
        if (other == nullptr) {
            return "feature " + std::to_string(one->GetFID()) + " cannot be read back";
        }
        if (std::string found = difference(*one, *other, added, format); !found.empty()) {
            return found;
        }
    }
    return {};
}

} // namespace loopwalk::gis
