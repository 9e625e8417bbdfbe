// What a layer looks like: its geometry, its fields and what stands in them. Made from one pass
// through all features, in memory that does not grow with their number.
#pragma once

#include "loopwalk/base/point.hpp"
#include "loopwalk/draft/value_counts.hpp"
#include "loopwalk/gis/dataset.hpp"
#include "loopwalk/input/degrees.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loopwalk::draft {

/// How the numbers of a field compare with the drawn lengths of their lines.
class LengthRatios {
  public:
    /// `drawn_m`: metres on the ground. Pairs that say nothing (short lines, no length) are passed
    /// over.
    void add(double value, double drawn_m);
    /// Pairs that were counted.
    [[nodiscard]] std::uint64_t count() const noexcept { return m_count; }
    /// Median of value over drawn length, to about 2 %. Precondition: count() > 0.
    [[nodiscard]] double median() const;
    /// Share of the pairs whose ratio is within a quarter of the median.
    [[nodiscard]] double share_near_median() const;
    /// Share of the pairs that are equal but for rounding: the drawing was measured.
    [[nodiscard]] double share_equal() const;

  private:
    static constexpr int kBinsPerDecade = 100;
    static constexpr int kDecades = 10; ///< 1e-5 to 1e5
    [[nodiscard]] std::size_t median_bin() const;
    std::array<std::uint64_t, std::size_t{kBinsPerDecade} * kDecades> m_bins{};
    std::uint64_t m_count = 0;
    std::uint64_t m_equal = 0;
};

/// What a field holds.
struct FieldProfile {
    std::string name;                           ///< as the dataset has it
    gis::FieldKind kind = gis::FieldKind::text; ///< its type in the dataset
    ValueCounts values;                         ///< what stands in it, null left out
    std::optional<LengthRatios> ratios;         ///< fields of lines that hold numbers
};

/// Fields over which the type of a cable seems to be spread (cores, size, armour ...), as far as
/// names tell, and what they hold together.
struct TypeParts {
    std::vector<std::size_t> fields;  ///< in the order in which they are joined
    std::optional<std::size_t> cores; ///< positions in `fields`
    std::optional<std::size_t> size;  ///< position in `fields`; none if no name tells
    ValueCounts values;               ///< of all fields, with kBetween between them
    /// no text of a dataset holds it: unit separator of ASCII
    static constexpr char kBetween = '\x1f';
};

/// What most features of a layer are drawn as.
enum class Shape : std::uint8_t { none, point, line, other };
/// "points", "lines": for messages.
[[nodiscard]] std::string_view shape_name(Shape shape) noexcept;

/// The fields of a table in which the coordinates of points seem to stand.
struct PlaceFields {
    std::size_t x = 0, y = 0; ///< positions in the layer
    bool is_degrees = false;  ///< longitude and latitude; else the system is not known
    base::DecimalMark mark = base::DecimalMark::unstated; ///< of coordinates that are texts
};

/// By names and numbers; none if nothing plainly looks like them. Reads the layer once.
[[nodiscard]] std::optional<PlaceFields> find_place_fields(gis::Layer& layer);

/// What a layer looks like: filled by Profiler in one reading.
struct LayerProfile {
    std::string dataset;            ///< as the user named it
    std::string name;               ///< of the layer in its dataset
    std::string system;             ///< "EPSG:27700"; empty: the layer states none
    bool is_geographic = false;     ///< that system is one of longitudes and latitudes
    std::optional<base::Box> box;   ///< of all usable coordinates, as they are stored
    bool is_like_degrees = false;   ///< input::DegreeCheck says so of coordinates not declared so
    bool is_beside_degrees = false; ///< a layer of the same system looks like degrees, and so do
                                    ///< its few numbers
    std::optional<PlaceFields> place_fields; ///< of a table
    std::uint64_t features = 0;              ///< how many there are
    std::array<std::uint64_t, 4> shapes{};   ///< features by Shape
    std::vector<FieldProfile> fields;        ///< in the order of the dataset
    std::optional<TypeParts> type_parts;     ///< of lines with a field for the size and others

    /// What most of its features are; none for a table.
    [[nodiscard]] Shape shape() const noexcept;
    /// Whether the numbers are such as longitudes and latitudes have although the layer does not
    /// say that they are: by input::DegreeCheck, which stops a run too, or beside such a layer.
    [[nodiscard]] bool looks_like_degrees() const noexcept;
    /// Whether all numbers could be longitudes and latitudes, in a layer that does not say so.
    [[nodiscard]] bool may_be_degrees() const noexcept;
    /// Share of the features for which the field holds something.
    [[nodiscard]] double fill(const FieldProfile& field) const noexcept;
};

/// Fills a profile feature by feature.
class Profiler {
  public:
    /// `system` as LayerProfile has it; `fields` of the layer, in its order.
    Profiler(std::string dataset, std::string layer, std::string system,
             const std::vector<gis::FieldInfo>& fields);
    /// The layer's system is one of longitudes and latitudes.
    void set_geographic() { m_profile.is_geographic = true; }
    /// The layer is a table whose fields hold the coordinates.
    void set_place_fields(const PlaceFields& fields) { m_profile.place_fields = fields; }
    /// Coordinates of the feature as they are stored; a line from one end to the other.
    void place(const std::vector<base::Point2>& points);
    /// A feature begins. `drawn_m`: length on the ground of a line, 0 for all else.
    void next(Shape shape, double drawn_m);
    /// What stands in a field of the feature. Not called for null.
    void value(std::size_t field, std::string_view text);
    /// Ends the last feature. Call once.
    [[nodiscard]] LayerProfile finish();

  private:
    void finish_feature();
    LayerProfile m_profile;
    input::DegreeCheck m_degrees;
    std::vector<std::string> m_parts; ///< of the feature, by TypeParts::fields
    double m_drawn_m = 0.0;
};

} // namespace loopwalk::draft
