// Numbers of a field: whether they lie where those of the contract's field do, and in which unit.
#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"
#include "loopwalk/base/written_number.hpp"
#include "loopwalk/config/contract_fields.hpp"

#include "evidence.hpp"
#include <algorithm>
#include <array>
#include <cmath>

namespace loopwalk::draft {

namespace {

using base::Unit;

constexpr double kMostlyUsual = 0.8;
constexpr double kPlainlyUsual = 0.9;
constexpr double kLeastUsual = 0.6; ///< what none is usual of may still be it, if with doubt

const config::Usual& usual_of(base::AssetLayer layer, std::string_view field) {
    for (const config::FieldRule& rule : config::contract_fields(layer)) {
        if (rule.name == field && rule.usual.has_value()) {
            return *rule.usual;
        }
    }
    throw base::InternalError("no usual numbers for " + std::string(field));
}

struct Weighted {
    double value = 0.0;
    double weight = 0.0;
    const Unit* unit = nullptr; ///< written beside it
};

/// The numbers of a field but for zeros, which often stand for "not recorded".
struct Numbers {
    std::vector<Weighted> all;
    double others = 0.0; ///< weight of what is no number
    double zeros = 0.0;
};

Numbers numbers_of(const FieldProfile& field, const Unit* native) {
    Numbers numbers;
    for (const ValueCounts::Entry& entry : field.values.entries()) {
        const base::WrittenNumber written = base::read_written_number(entry.text);
        const auto weight = static_cast<double>(entry.count);
        const bool is_other_kind =
            written.unit != nullptr &&
            (native == nullptr || written.unit->dimension != native->dimension);
        if (written.state == base::WrittenNumber::State::ambiguous) {
            continue; // says nothing either way
        }
        if (written.state == base::WrittenNumber::State::none || is_other_kind) {
            numbers.others += weight;
        } else if (written.value == 0.0) {
            numbers.zeros += weight;
        } else {
            numbers.all.push_back({written.value, weight, written.unit});
        }
    }
    return numbers;
}

double weight_of(const Numbers& numbers) {
    double sum = 0.0;
    for (const Weighted& number : numbers.all) {
        sum += number.weight;
    }
    return sum;
}

double in_native(const Weighted& number, const Unit* unit, const Unit* native) {
    const Unit* own = number.unit != nullptr ? number.unit : unit;
    return own == nullptr || native == nullptr ? number.value
                                               : base::converted(number.value, *own, *native);
}

/// Share of the numbers that would be usual in a unit.
double usual_share(const Numbers& numbers, const Target& target, const Unit* unit) {
    const config::Usual& usual = usual_of(target.layer, target.field);
    double sum = 0.0;
    for (const Weighted& number : numbers.all) {
        const double value = std::abs(in_native(number, unit, target.native));
        const bool fits = (target.field == "conductor_c" ? true : value >= usual.low) &&
                          value <= usual.high &&
                          (target.allowed.rule != input::NumberRule::one_or_three || value == 1.0 ||
                           value == 3.0);
        sum += fits ? number.weight : 0.0;
    }
    return sum / weight_of(numbers);
}

/// Ratings that fuses and breakers are made in, A (IEC 60269-1, BS 1361, BS 3036, BS 1362 and older
/// mains fuses).
bool is_rating(double value) {
    constexpr std::array kMade{1.0,   2.0,   3.0,   4.0,   5.0,   6.0,   8.0,   10.0,  12.0,
                               13.0,  15.0,  16.0,  20.0,  25.0,  30.0,  32.0,  35.0,  40.0,
                               45.0,  50.0,  60.0,  63.0,  80.0,  100.0, 125.0, 160.0, 200.0,
                               224.0, 250.0, 300.0, 315.0, 355.0, 400.0, 500.0, 630.0, 800.0};
    return std::find(kMade.begin(), kMade.end(), value) != kMade.end();
}

double rating_share(const Numbers& numbers) {
    double sum = 0.0;
    for (const Weighted& number : numbers.all) {
        sum += is_rating(number.value) ? number.weight : 0.0;
    }
    return sum / weight_of(numbers);
}

/// The only unit but the native one in which plainly all numbers would be usual.
const Unit* other_unit(const Numbers& numbers, const Target& target) {
    const Unit* found = nullptr;
    if (target.native == nullptr) {
        return nullptr;
    }
    for (const std::string& name : base::unit_names(target.native->dimension)) {
        const Unit* unit = base::find_unit(name);
        if (unit == target.native || usual_share(numbers, target, unit) < kPlainlyUsual) {
            continue;
        }
        if (found != nullptr && found->factor != unit->factor) {
            return nullptr;
        }
        found = unit;
    }
    return found;
}

/// Whether there are lines enough to compare with.
bool has_drawing(const FieldProfile& field) {
    constexpr std::uint64_t kEnough = 4;
    return field.ratios && field.ratios->count() >= kEnough;
}

/// The unit in which the values would be lengths of the lines as drawn: a cable is laid a little
/// longer than it is drawn.
const Unit* unit_by_drawing(const FieldProfile& field) {
    constexpr double kMostAgree = 0.6;
    constexpr double kLeast = 0.9;
    constexpr double kMost = 1.35;
    if (field.ratios->share_near_median() < kMostAgree) {
        return nullptr;
    }
    const Unit* found = nullptr;
    for (const std::string& name : base::unit_names(base::Dimension::length)) {
        const Unit* unit = base::find_unit(name);
        const double laid = field.ratios->median() * unit->factor;
        // Yards are metres but for what snaking makes up: nobody can tell them apart.
        if (laid >= kLeast && laid <= kMost && name != "yd") {
            found = found == nullptr ? unit : found;
        }
    }
    return found;
}

/// "most 6 to 12": the middle nine tenths.
std::string range_text(const Numbers& numbers) {
    std::vector<Weighted> sorted = numbers.all;
    std::sort(sorted.begin(), sorted.end(),
              [](const Weighted& a, const Weighted& b) { return a.value < b.value; });
    const double all = weight_of(numbers);
    constexpr double kTail = 0.05;
    const auto at = [&](double share) {
        double below = 0.0;
        for (const Weighted& number : sorted) {
            below += number.weight;
            if (below >= share * all) {
                return number.value;
            }
        }
        return sorted.back().value;
    };
    const std::string low = base::short_text(at(kTail));
    const std::string high = base::short_text(at(1.0 - kTail));
    return low == high ? "most " + low : "most " + low + " to " + high;
}

void judge_length(const FieldProfile& field, const Unit* named_unit, const Target& target,
                  Evidence& evidence) {
    constexpr double kNearlyAll = 0.9;
    const Unit* drawn = unit_by_drawing(field);
    if (drawn == nullptr) {
        evidence.text += ", but not in step with the drawn lengths";
        evidence.unit_is_doubtful = true;
        return;
    }
    const Unit* stated = named_unit != nullptr ? named_unit : drawn;
    const bool is_yard = stated->name == "yd" && drawn == target.native;
    evidence.unit = stated == target.native ? nullptr : stated;
    evidence.unit_is_proved = stated->factor == drawn->factor;
    evidence.unit_is_doubtful = !evidence.unit_is_proved && !is_yard;
    evidence.text += ", in step with the drawn lengths in " + std::string(drawn->name);
    if (drawn == target.native && field.ratios->share_equal() > kNearlyAll) {
        evidence.text += " (equal to the drawing: measured from it, not laid?)";
        evidence.unit_is_doubtful = true;
    }
}

void judge_unit(const Numbers& numbers, const Target& target, const Unit* named_unit,
                Evidence& evidence) {
    const double native = usual_share(numbers, target, target.native);
    const double named = named_unit == nullptr ? 0.0 : usual_share(numbers, target, named_unit);
    if (named_unit != nullptr) {
        evidence.unit = named_unit == target.native ? nullptr : named_unit;
        evidence.unit_is_doubtful = named < kMostlyUsual;
        evidence.text += evidence.unit_is_doubtful ? ", not what is usual" : "";
        if (named_unit != target.native || evidence.unit_is_doubtful) {
            evidence.text += ", " + std::string(named_unit->name) + " by its name";
        }
        return;
    }
    if (native >= kMostlyUsual) {
        return;
    }
    if (const Unit* other = other_unit(numbers, target)) {
        evidence.unit = other;
        evidence.text += ": they suit " + std::string(other->name);
        return;
    }
    evidence.unit_is_doubtful = true;
    evidence.text += ", not what is usual";
}

} // namespace

Evidence number_evidence(const Target& target, const FieldProfile& field, const Unit* named_unit) {
    Evidence evidence;
    const Numbers numbers = numbers_of(field, target.native);
    const double count = weight_of(numbers);
    const double all = count + numbers.zeros + numbers.others;
    if (all == 0.0) {
        return evidence;
    }
    evidence.share = (count + numbers.zeros) / all;
    evidence.text = percent_text(evidence.share) + " are numbers";
    if (count == 0.0) { // nothing but zeros
        evidence.is_weak = true;
        evidence.text += ", all 0";
        return evidence;
    }
    evidence.text += ", " + range_text(numbers);
    if (target.field == "fuse_a") {
        evidence.share *= rating_share(numbers);
    }
    if (target.field == "length_m" && has_drawing(field)) {
        judge_length(field, named_unit, target, evidence);
    } else {
        judge_unit(numbers, target, named_unit, evidence);
    }
    const Unit* unit = evidence.unit != nullptr ? evidence.unit : target.native;
    const double usual = usual_share(numbers, target, unit);
    evidence.unit_is_doubtful = evidence.unit_is_doubtful || usual < kMostlyUsual;
    evidence.share *= std::clamp(usual / kPlainlyUsual, kLeastUsual, 1.0);
    return evidence;
}

} // namespace loopwalk::draft
