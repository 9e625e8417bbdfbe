// Units of measure by name: what a record or a job file may be written in, and how it becomes the
// unit that stands at the end of a field's name ("length_m"). Docs: docs/job_file.md.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loopwalk::base {

/// What a unit measures; numbers without a unit have none.
enum class Dimension : std::uint8_t {
    none,
    length,
    area,
    power,
    apparent_power,
    current,
    voltage,
    resistance,
    resistance_per_length,
    time,
    ratio,
    temperature,
};

/// value in the dimension's base unit = value * factor + offset. Base units: m, mm2, W, VA, A, V,
/// ohm, ohm per km, s, 1, C.
struct Unit {
    std::string_view name;                 ///< its usual form: "ft", "mm2"
    Dimension dimension = Dimension::none; ///< what it measures
    double factor = 1.0;                   ///< of the base unit
    double offset = 0.0;                   ///< in the base unit; only temperatures have one
};

/// The unit called so ("ft", "FEET", "sq. in", "ohm/km"), null if there is none. Case counts only
/// where it tells milli from mega.
[[nodiscard]] const Unit* find_unit(std::string_view name);
/// The usual names of all units of a dimension, largest use first.
[[nodiscard]] std::vector<std::string> unit_names(Dimension dimension);
/// The unit at the end of a field's name ("length_m", "pscc_ka"); null for a plain number.
[[nodiscard]] const Unit* unit_of_field(std::string_view field);
/// From one unit to another of the same dimension.
[[nodiscard]] double converted(double value, const Unit& from, const Unit& to) noexcept;

/// Cross-section in mm2 of a stranded conductor written as in imperial tables, number of wires over
/// their diameter in inches: "7/.036", "7/0.029". None if it is not written so.
[[nodiscard]] std::optional<double> strand_area_mm2(std::string_view text);

} // namespace loopwalk::base
