// What a feature holds, as a number: to tell whether what was written is what stands in the file.
#pragma once

#include <ogrsf_frmts.h>

#include <cstdint>
#include <vector>

namespace loopwalk::gis {

/// The types of the fields, in their order.
[[nodiscard]] std::vector<OGRFieldType> types_of(const OGRFeatureDefn& definition);

/// Null or never set. GDAL's own test is a call into its library for each value: made only where it
/// may say yes.
[[nodiscard]] bool is_null_value(const OGRField& raw) noexcept;

/// How numbers with a point count: bit by bit, or by the fifteen digits that GDAL writes of them in
/// a statement for a database.
enum class Reals : std::uint8_t { exact, fifteen_digits };

/// Of id, geometry and fields by RowMixer. The sum over the features of a layer does not depend on
/// their order. `types` are those of the feature's fields; `id` is the feature's own, which the
/// driver of GeoPackage forgets when it has written one of 0 or less.
[[nodiscard]] std::uint64_t digest_of(const OGRFeature& feature, std::int64_t id,
                                      const std::vector<OGRFieldType>& types,
                                      Reals reals = Reals::exact);

/// The first field that differs between features of the same fields; -1 if none does.
[[nodiscard]] int first_different_field(const OGRFeature& a,
                                        const std::vector<OGRFieldType>& a_types,
                                        const OGRFeature& b,
                                        const std::vector<OGRFieldType>& b_types, Reals reals);

} // namespace loopwalk::gis
