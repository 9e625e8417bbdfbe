// A geometry as a GeoPackage stores it: GeoPackage 1.2.1, clause 2.1.3 "StandardGeoPackageBinary".
// For this folder only.
#pragma once

#include "row_mixer.hpp"
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

class OGRGeometry;

namespace loopwalk::gis {

/// What stands in it, beside the number of its coordinate system.
struct GpkgGeometry {
    std::string_view well_known_bytes;
    std::array<double, 6> sides{}; ///< x, y and z or m, least and greatest of each
    std::size_t side_count = 0;    ///< 0 for points and for what is empty
    bool is_empty = false;

    void mix_into(RowMixer& mixer) const noexcept;
};

/// Writes a geometry into `blob`, whose memory is used again; the result looks into `blob`.
/// Throws OutputError where it has no form in bytes.
GpkgGeometry to_gpkg(const OGRGeometry& geometry, std::int32_t system, std::string& blob);

/// None where `blob` is no geometry of a GeoPackage in that system. The result looks into `blob`.
[[nodiscard]] std::optional<GpkgGeometry> from_gpkg(std::string_view blob, std::int64_t system);

} // namespace loopwalk::gis
