#include "loopwalk/base/text.hpp"
#include "loopwalk/catalogue/catalogue.hpp"
#include "loopwalk/catalogue/curve.hpp"

#include "oracle/oracle_line.hpp"
#include <cmath>
#include <complex>
#include <stdexcept>

namespace loopwalk::oracle {

namespace {

using Arguments = std::vector<std::string>;
using catalogue::CableType;
using catalogue::Conductor;
using catalogue::FuseRating;

// Regulation 411.4.4 of BS 7671: U0 = 230 V; Cmin = 0.95 since 2015, before that not applied.
constexpr double kU0 = 230.0;
constexpr double kCmin = 0.95;

const catalogue::Catalogue& built_in() {
    static const catalogue::Catalogue tables =
        catalogue::parse_catalogue(catalogue::built_in_text());
    return tables;
}

const std::string& argument(const Arguments& arguments, std::size_t index) {
    if (index >= arguments.size()) {
        throw std::runtime_error("argument " + std::to_string(index + 1) + " is missing");
    }
    return arguments[index];
}

double number(const Arguments& arguments, std::size_t index) {
    const std::string& text = argument(arguments, index);
    const auto value = base::parse_number(text);
    if (!value) {
        throw std::runtime_error("'" + text + "' is not a number");
    }
    return *value;
}

const CableType& cable(const Arguments& arguments, std::size_t index) {
    const std::string& name = argument(arguments, index);
    const auto id = built_in().find_cable(name);
    if (!id) {
        throw std::runtime_error("the catalogue has no cable '" + name + "'");
    }
    return built_in().cable(*id);
}

/// Arguments `index` and `index + 1`: cable type, conductor.
const Conductor& conductor(const Arguments& arguments, std::size_t index) {
    const CableType& type = cable(arguments, index);
    const std::string& name = argument(arguments, index + 1);
    if (name == "line") {
        return type.line;
    }
    const auto& chosen = name == "neutral"  ? type.neutral
                         : name == "armour" ? type.armour
                                            : type.cpc;
    if (!chosen || (name != "neutral" && name != "armour" && name != "cpc")) {
        throw std::runtime_error("'" + type.name + "' has no '" + name + "'");
    }
    return *chosen;
}

/// Arguments 0 and 1: fuse type, rating in A.
const FuseRating& fuse(const Arguments& arguments) {
    const std::string& name = argument(arguments, 0);
    const auto id = built_in().find_fuse(name);
    const FuseRating* rating =
        id ? built_in().fuse(*id).rating(base::Ampere(number(arguments, 1))) : nullptr;
    if (!rating) {
        throw std::runtime_error("the catalogue has no '" + name + "' of that rating");
    }
    return *rating;
}

template <class Q>
double known(base::Maybe<Q> value) {
    if (!value) {
        throw std::runtime_error("the catalogue does not give it");
    }
    return (*value).value();
}

double slow_current(const Arguments& arguments) {
    return known(catalogue::slow_current(fuse(arguments).slow, base::Second(number(arguments, 2))));
}

double slow_time(const Arguments& arguments) {
    const catalogue::OperatingTime time =
        catalogue::slow_time(fuse(arguments).slow, base::Ampere(number(arguments, 2)));
    if (time.state != catalogue::TimeState::clears) {
        throw std::runtime_error("not within the table");
    }
    return time.time.value();
}

/// mV/A/m as appendix 4 of BS 7671 tabulates it: conductors hot, for a single phase the way there
/// and back (factor 2), for three phases the line voltage (factor sqrt 3).
double volt_drop(const Arguments& arguments) {
    const Conductor& line = cable(arguments, 0).line;
    const std::string& phases = argument(arguments, 1);
    const std::string& part = argument(arguments, 2);
    if (phases != "single" && phases != "three") {
        throw std::runtime_error("'" + phases + "' is neither single nor three");
    }
    const double factor = phases == "single" ? 2.0 : std::sqrt(3.0);
    const std::complex<double> z(line.r_at(line.hot).value(), line.x.value());
    if (part == "r") {
        return factor * z.real();
    }
    if (part == "x") {
        return factor * z.imag();
    }
    if (part == "z") {
        return factor * std::abs(z);
    }
    throw std::runtime_error("'" + part + "' is none of r, x, z");
}

Calls cable_calls() {
    return {
        // CABLE CONDUCTOR: ohm/km at 20 C
        {"r20", [](const Arguments& a) { return conductor(a, 0).r20.value(); }},
        // CABLE CONDUCTOR T: resistance at T over that at 20 C
        {"r_factor",
         [](const Arguments& a) {
             const Conductor& c = conductor(a, 0);
             return c.r_at(base::Celsius(number(a, 2))) / c.r20;
         }},
        // CABLE CONDUCTOR METRES: ohm of that length at 20 C
        {"ohms",
         [](const Arguments& a) {
             return (conductor(a, 0).r20 * base::Metre(number(a, 2))).value();
         }},
        // CABLE CONDUCTOR CABLE CONDUCTOR T: sum of two resistances at T, milliohm/m
        {"r1_r2",
         [](const Arguments& a) {
             const base::Celsius t(number(a, 4));
             return (conductor(a, 0).r_at(t) + conductor(a, 2).r_at(t)).value();
         }},
        {"x", [](const Arguments& a) { return conductor(a, 0).x.value(); }},          // ohm/km
        {"k", [](const Arguments& a) { return known(conductor(a, 0).k); }},           // A s^0.5/mm2
        {"csa", [](const Arguments& a) { return known(conductor(a, 0).csa); }},       // mm2
        {"ampacity", [](const Arguments& a) { return known(cable(a, 0).ampacity); }}, // A
        // CABLE single|three r|x|z: mV/A/m
        {"volt_drop", volt_drop},
    };
}

Calls fuse_calls() {
    return {
        // TYPE RATING SECONDS: smallest current that the slow edge clears in that time, A
        {"slow_current", slow_current},
        // TYPE RATING AMPERES: longest operating time, s
        {"slow_time", slow_time},
        // TYPE RATING SECONDS: largest loop impedance, ohm, BS 7671 since 2015
        {"zs_limit", [](const Arguments& a) { return kCmin * kU0 / slow_current(a); }},
        // the same before 2015
        {"zs_limit_230", [](const Arguments& a) { return kU0 / slow_current(a); }},
        // TYPE RATING: kA
        {"breaking_ka", [](const Arguments& a) { return known(fuse(a).breaking_ka); }},
    };
}

} // namespace

Calls catalogue_calls() {
    Calls calls = cable_calls();
    calls.merge(fuse_calls());
    return calls;
}

} // namespace loopwalk::oracle
