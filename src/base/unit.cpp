#include "loopwalk/base/unit.hpp"

#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <array>
#include <numbers>

namespace loopwalk::base {

namespace {

// Exact by definition: international yard and pound agreement of 1959.
constexpr double kInch = 0.0254;
constexpr double kFoot = 12.0 * kInch;
constexpr double kYard = 3.0 * kFoot;
constexpr double kMile = 1760.0 * kYard;
constexpr double kMillimetresPerInch = 25.4;
constexpr double kSquareInch = kMillimetresPerInch * kMillimetresPerInch; // in mm2

struct NamedUnit {
    Unit unit;
    std::string_view aliases; ///< further names, separated by blanks
};

using D = Dimension;

// Names are compared without case, blanks, dots and "^"; "µ" and the like are not needed.
constexpr std::array kUnits{
    NamedUnit{{"m", D::length}, "metre metres meter meters mtr mtrs"},
    NamedUnit{{"km", D::length, 1000.0}, "kilometre kilometres kilometer kilometers"},
    NamedUnit{{"cm", D::length, 0.01}, "centimetre centimetres centimeter centimeters"},
    NamedUnit{{"mm", D::length, 0.001}, "millimetre millimetres millimeter millimeters"},
    NamedUnit{{"ft", D::length, kFoot}, "foot feet '"},
    NamedUnit{{"yd", D::length, kYard}, "yard yards yds"},
    NamedUnit{{"in", D::length, kInch}, "inch inches \""},
    NamedUnit{{"mi", D::length, kMile}, "mile miles"},
    NamedUnit{{"mm2", D::area}, "mm² sqmm qmm mmq squaremillimetre squaremillimetres"},
    NamedUnit{{"sq in", D::area, kSquareInch}, "in2 in² squareinch squareinches sqinch"},
    NamedUnit{{"W", D::power}, "watt watts"},
    NamedUnit{{"kW", D::power, 1000.0}, "kilowatt kilowatts"},
    NamedUnit{{"VA", D::apparent_power}, "voltampere voltamperes"},
    NamedUnit{{"kVA", D::apparent_power, 1000.0}, ""},
    NamedUnit{{"A", D::current}, "amp amps ampere amperes"},
    NamedUnit{{"mA", D::current, 0.001}, "milliamp milliamps milliampere milliamperes"},
    NamedUnit{{"kA", D::current, 1000.0}, "kiloamp kiloamps kiloampere kiloamperes"},
    NamedUnit{{"V", D::voltage}, "volt volts"},
    NamedUnit{{"mV", D::voltage, 0.001}, "millivolt millivolts"},
    NamedUnit{{"kV", D::voltage, 1000.0}, "kilovolt kilovolts"},
    NamedUnit{{"ohm", D::resistance}, "ohms Ω \xE2\x84\xA6"},
    NamedUnit{{"mohm", D::resistance, 0.001}, "milliohm milliohms mΩ m\xE2\x84\xA6"},
    NamedUnit{{"kohm", D::resistance, 1000.0}, "kiloohm kiloohms kΩ k\xE2\x84\xA6"},
    NamedUnit{{"ohm/km", D::resistance_per_length}, "ohmperkm ohms/km Ω/km"},
    NamedUnit{{"mohm/m", D::resistance_per_length}, "mohmperm mΩ/m"},
    NamedUnit{{"ohm/m", D::resistance_per_length, 1000.0}, "ohmperm ohms/m Ω/m"},
    NamedUnit{{"s", D::time}, "sec secs second seconds"},
    NamedUnit{{"ms", D::time, 0.001}, "millisecond milliseconds"},
    NamedUnit{{"min", D::time, 60.0}, "mins minute minutes"},
    NamedUnit{{"%", D::ratio, 0.01}, "percent pct"},
    NamedUnit{{"ratio", D::ratio}, "1"},
    NamedUnit{{"C", D::temperature}, "°c degc celsius"},
    NamedUnit{{"F", D::temperature, 5.0 / 9.0, -160.0 / 9.0}, "°f degf fahrenheit"},
    NamedUnit{{"K", D::temperature, 1.0, -273.15}, "kelvin"},
};

/// Without blanks, dots and "^".
std::string squeezed(std::string_view name) {
    std::string result(name);
    std::erase_if(result, [](char c) { return c == ' ' || c == '.' || c == '^' || c == '\t'; });
    return result;
}

/// "mA" and "MA" are a thousand million apart; for metres and seconds nobody means mega.
bool case_counts(const Unit& unit) {
    const bool electrical =
        unit.dimension != D::length && unit.dimension != D::area && unit.dimension != D::time;
    return electrical && unit.name.starts_with('m');
}

bool is_called(const NamedUnit& entry, std::string_view name, std::string_view wanted) {
    if (!same_word(name, wanted)) {
        return false;
    }
    return !case_counts(entry.unit) || wanted.starts_with('m');
}

bool has_name(const NamedUnit& entry, std::string_view wanted) {
    if (is_called(entry, squeezed(entry.unit.name), wanted)) {
        return true;
    }
    std::string_view rest = entry.aliases;
    while (!rest.empty()) {
        const std::string_view alias = rest.substr(0, rest.find(' '));
        if (is_called(entry, alias, wanted)) {
            return true;
        }
        rest.remove_prefix(std::min(rest.size(), alias.size() + 1));
    }
    return false;
}

} // namespace

const Unit* find_unit(std::string_view name) {
    const std::string wanted = squeezed(trimmed(name));
    if (wanted.empty()) {
        return nullptr;
    }
    const auto* const found =
        std::find_if(kUnits.begin(), kUnits.end(),
                     [&](const NamedUnit& entry) { return has_name(entry, wanted); });
    return found == kUnits.end() ? nullptr : &found->unit;
}

std::vector<std::string> unit_names(Dimension dimension) {
    std::vector<std::string> names;
    for (const NamedUnit& entry : kUnits) {
        if (entry.unit.dimension == dimension) {
            names.emplace_back(entry.unit.name);
        }
    }
    return names;
}

const Unit* unit_of_field(std::string_view field) {
    if (field == "power_factor") {
        return find_unit("ratio");
    }
    const std::size_t bar = field.rfind('_');
    if (bar == std::string_view::npos) {
        return nullptr;
    }
    const std::string_view ending = field.substr(bar + 1);
    constexpr std::array<std::pair<std::string_view, std::string_view>, 11> kEndings{{
        {"m", "m"},
        {"w", "W"},
        {"a", "A"},
        {"ka", "kA"},
        {"ma", "mA"},
        {"s", "s"},
        {"ohm", "ohm"},
        {"v", "V"},
        {"kva", "kVA"},
        {"pct", "%"},
        {"c", "C"},
    }};
    const auto* const found = std::find_if(kEndings.begin(), kEndings.end(),
                                           [&](const auto& e) { return e.first == ending; });
    return found == kEndings.end() ? nullptr : find_unit(found->second);
}

double converted(double value, const Unit& from, const Unit& to) noexcept {
    if (from.factor == to.factor && from.offset == to.offset) {
        return value;
    }
    return (value * from.factor + from.offset - to.offset) / to.factor;
}

std::optional<double> strand_area_mm2(std::string_view text) {
    const std::string_view all = trimmed(text);
    const std::size_t bar = all.find('/');
    if (bar == std::string_view::npos) {
        return std::nullopt;
    }
    const auto wires = parse_number(all.substr(0, bar));
    const std::string_view written = trimmed(all.substr(bar + 1));
    auto diameter = parse_number(written);
    if (diameter && written.size() == 3 && written.front() == '0' &&
        written.find('.') == std::string_view::npos) {
        *diameter /= 1000.0; // "7/036": thousandths of an inch
    }
    constexpr double kMostWires = 127.0;   // of a concentric lay
    constexpr double kThickestInch = 0.25; // a solid wire thicker than that is no strand
    if (!wires || !diameter || *wires < 1.0 || *wires > kMostWires ||
        *wires != static_cast<double>(static_cast<int>(*wires)) || *diameter <= 0.0 ||
        *diameter > kThickestInch) {
        return std::nullopt;
    }
    const double diameter_mm = *diameter * kMillimetresPerInch;
    return *wires * std::numbers::pi / 4.0 * diameter_mm * diameter_mm;
}

} // namespace loopwalk::base
