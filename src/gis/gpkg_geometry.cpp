#include "gpkg_geometry.hpp"

#include "loopwalk/base/error.hpp"

#include <ogr_geometry.h>

#include <algorithm>
#include <bit>
#include <cstring>
#include <span>

namespace loopwalk::gis {
namespace {

static_assert(std::endian::native == std::endian::little, "numbers are written as they lie");

constexpr std::string_view kMagic("GP\0", 3); // and the version
constexpr std::size_t kFlagsAt = 3;
constexpr std::size_t kSystemAt = 4;
constexpr std::size_t kFixed = 8;
constexpr unsigned kLittleEndian = 1;
constexpr unsigned kEmpty = 16;
constexpr unsigned kNeverSet = 0xE0; // reserved, and a geometry that only an extension knows
constexpr std::array<std::size_t, 4> kSides = {0, 4, 6, 6}; // none, xy, xyz, xym

void add_box(const OGRGeometry& geometry, GpkgGeometry& into) {
    if (into.is_empty || wkbFlatten(geometry.getGeometryType()) == wkbPoint) {
        return;
    }
    if (geometry.Is3D() != 0) {
        OGREnvelope3D box;
        geometry.getEnvelope(&box);
        into.sides = {box.MinX, box.MaxX, box.MinY, box.MaxY, box.MinZ, box.MaxZ};
        into.side_count = 6;
        return;
    }
    OGREnvelope box;
    geometry.getEnvelope(&box);
    into.sides = {box.MinX, box.MaxX, box.MinY, box.MaxY};
    into.side_count = 4;
}

} // namespace

void GpkgGeometry::mix_into(RowMixer& mixer) const noexcept {
    mixer.geometry(well_known_bytes, std::span(sides).first(side_count),
                   is_empty ? RowMixer::Shape::empty : RowMixer::Shape::filled);
}

GpkgGeometry to_gpkg(const OGRGeometry& geometry, std::int32_t system, std::string& blob) {
    GpkgGeometry result;
    result.is_empty = geometry.IsEmpty() != 0;
    add_box(geometry, result);
    const auto shape =
        static_cast<unsigned>(std::ranges::find(kSides, result.side_count) - kSides.begin());
    const std::size_t box_size = result.side_count * sizeof(double);
    blob.resize(kFixed + box_size + geometry.WkbSize());
    kMagic.copy(blob.data(), kMagic.size());
    blob[kFlagsAt] =
        static_cast<char>(kLittleEndian | (shape << 1U) | (result.is_empty ? kEmpty : 0U));
    std::memcpy(blob.data() + kSystemAt, &system, sizeof system);
    std::memcpy(blob.data() + kFixed, result.sides.data(), box_size);
    auto* const bytes = reinterpret_cast<unsigned char*>(blob.data() + kFixed + box_size);
    if (geometry.exportToWkb(wkbNDR, bytes, wkbVariantIso) != OGRERR_NONE) {
        throw base::OutputError("a geometry has no well-known bytes");
    }
    result.well_known_bytes = std::string_view(blob).substr(kFixed + box_size);
    return result;
}

std::optional<GpkgGeometry> from_gpkg(std::string_view blob, std::int64_t system) {
    if (blob.size() < kFixed || !blob.starts_with(kMagic)) {
        return std::nullopt;
    }
    const auto flags = static_cast<unsigned char>(blob[kFlagsAt]);
    const unsigned shape = (flags >> 1U) & 7U;
    std::int32_t stored_system = 0;
    std::memcpy(&stored_system, blob.data() + kSystemAt, sizeof stored_system);
    if ((flags & kLittleEndian) == 0 || (flags & kNeverSet) != 0 || shape >= kSides.size() ||
        stored_system != system) {
        return std::nullopt;
    }
    GpkgGeometry geometry;
    geometry.side_count = kSides.at(shape);
    geometry.is_empty = (flags & kEmpty) != 0;
    const std::size_t box_size = geometry.side_count * sizeof(double);
    if (blob.size() < kFixed + box_size) {
        return std::nullopt;
    }
    std::memcpy(geometry.sides.data(), blob.data() + kFixed, box_size);
    geometry.well_known_bytes = blob.substr(kFixed + box_size);
    return geometry;
}

} // namespace loopwalk::gis
