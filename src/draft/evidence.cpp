#include "evidence.hpp"

#include "loopwalk/base/text.hpp"
#include "loopwalk/base/written_number.hpp"
#include "loopwalk/catalogue/type_words.hpp"
#include "loopwalk/config/contract_fields.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>

namespace loopwalk::draft {

namespace {

using base::AssetLayer;

constexpr std::size_t kLongestId = 60;      ///< letters
constexpr double kPlainSize = 0.5;          ///< weight of a size without a unit as a cable type
constexpr std::size_t kTypesLookedAt = 200; ///< each is compared with the whole catalogue
constexpr std::uint64_t kFewValues = 10;    ///< too few to tell whether they repeat

bool has_letters(std::string_view text) {
    return std::any_of(text.begin(), text.end(), [](char c) {
        const auto u = static_cast<unsigned char>(c);
        return std::isalpha(u) != 0 || u >= 0x80U;
    });
}

/// Weighted share of the values, or of the `most` most frequent, for which `weight(text)` gives up
/// to 1.
template <class Weight>
double share_of(const ValueCounts& values, Weight weight, std::size_t most = ValueCounts::kMost) {
    double sum = 0.0;
    double all = 0.0;
    std::size_t looked_at = 0;
    for (const ValueCounts::Entry& entry : values.entries()) {
        if (looked_at++ == most) {
            break;
        }
        const auto count = static_cast<double>(entry.count);
        all += count;
        sum += count * weight(entry.text);
    }
    return all == 0.0 ? 0.0 : sum / all;
}

bool is_reference_field(AssetLayer layer, std::string_view field) {
    switch (layer) {
    case AssetLayer::ways:
        return field == "supply_id";
    case AssetLayer::terminations:
        return field == "asset_id" || field == "cable_id";
    case AssetLayer::loads:
        return field == "column_id";
    case AssetLayer::readings:
        return field == "asset_id";
    case AssetLayer::columns:
    case AssetLayer::cables:
    case AssetLayer::supplies:
    case AssetLayer::joints:
    case AssetLayer::mains:
        break;
    }
    return false;
}

} // namespace

std::string percent_text(double share) {
    constexpr double kNearlyAll = 99.5;
    const double percent = share * 100.0;
    if (percent < 100.0 && percent >= kNearlyAll) {
        return "over 99 %";
    }
    return std::to_string(std::lround(percent)) + " %";
}

std::vector<Target> targets_of(AssetLayer layer) {
    const auto& rules = config::contract_fields(layer);
    const std::vector<input::AllowedValue> allowed = input::allowed_values(layer);
    std::vector<Target> targets;
    for (std::size_t i = 0; i < rules.size(); ++i) {
        Target target;
        target.layer = layer;
        target.field = rules[i].name;
        target.is_reference = is_reference_field(layer, rules[i].name);
        // The label of a way repeats from one supply to the next.
        target.is_id = rules[i].needed && !target.is_reference && rules[i].name != "way";
        target.is_number = rules[i].is_number;
        target.allowed = allowed[i];
        target.native = rules[i].is_number ? base::unit_of_field(rules[i].name) : nullptr;
        targets.push_back(std::move(target));
    }
    return targets;
}

Evidence EvidenceMaker::of(const Target& target, const LayerProfile& layer,
                           const FieldProfile& field, const base::Unit* named_unit,
                           const IdFields& ids) const {
    if (field.values.total() == 0) {
        Evidence nothing;
        nothing.text = "nothing is recorded in it";
        nothing.is_weak = true;
        return nothing;
    }
    if (target.is_id) {
        return of_id(layer, field);
    }
    if (target.is_reference) {
        return of_reference(field, ids);
    }
    if (target.is_number) {
        return number_evidence(target, field, named_unit);
    }
    if (!target.allowed.words.empty()) {
        return of_words(target, field);
    }
    if (target.allowed.holds != input::Holds::plain) {
        return of_types(target, field);
    }
    return of_label(target, field);
}

Evidence EvidenceMaker::of_id(const LayerProfile& layer, const FieldProfile& field) {
    Evidence evidence;
    const double fill = layer.fill(field);
    const double unique = field.values.distinct() / static_cast<double>(field.values.total());
    const double fits = share_of(field.values, [](const std::string& text) {
        const auto number = base::parse_number(text);
        const bool is_fraction = number && *number != std::trunc(*number);
        return text.size() <= kLongestId && !is_fraction ? 1.0 : 0.0;
    });
    if (field.kind == gis::FieldKind::date || field.kind == gis::FieldKind::boolean) {
        return evidence;
    }
    evidence.share = std::min({fill, unique, fits});
    evidence.text = unique >= 1.0 && field.values.is_complete() ? "all values differ"
                    : unique >= 1.0                             ? "nearly all values differ"
                                    : percent_text(unique) + " of the values differ";
    if (fill < 1.0) {
        evidence.text += ", " + percent_text(fill) + " recorded";
    }
    return evidence;
}

Evidence EvidenceMaker::of_reference(const FieldProfile& field, const IdFields& ids) {
    Evidence evidence;
    for (const ValueCounts* id : ids) {
        evidence.share = std::max(evidence.share, field.values.share_found_in(*id));
    }
    evidence.text = ids.empty() ? "no layer to look its values up in"
                                : percent_text(evidence.share) + " of its values are ids there";
    return evidence;
}

Evidence EvidenceMaker::of_words(const Target& target, const FieldProfile& field) const {
    Evidence evidence;
    double known = 0.0;
    double native = 0.0;
    double all = 0.0;
    for (const ValueCounts::Entry& entry : field.values.entries()) {
        const auto count = static_cast<double>(entry.count);
        const auto& words = target.allowed.words;
        const bool is_native = std::any_of(words.begin(), words.end(), [&](std::string_view word) {
            return base::same_word(word, entry.text);
        });
        const auto meaning = m_vocabulary.meaning_of(target.layer, target.field, entry.text);
        if (!is_native && meaning && meaning->word.empty()) {
            continue; // says nothing either way
        }
        all += count;
        native += is_native ? count : 0.0;
        constexpr double kDoubtful = 0.5;
        if (is_native || (meaning && meaning->doubt != Doubt::much)) {
            known += count;
        } else if (meaning) {
            known += kDoubtful * count;
        }
    }
    evidence.share = all == 0.0 ? 0.0 : known / all;
    constexpr double kNearlyAll = 0.97;
    evidence.is_native = native >= kNearlyAll * all;
    evidence.text = percent_text(evidence.share) + " of the recorded words are understood";
    return evidence;
}

Evidence EvidenceMaker::of_types(const Target& target, const FieldProfile& field) const {
    Evidence evidence;
    if (target.allowed.holds == input::Holds::cable_type) {
        evidence.share = share_of(
            field.values,
            [this](const std::string& text) {
                const auto words = catalogue::read_cable_words(text);
                if (catalogue::guess_cable(text, m_catalogue).names.empty()) {
                    return words.csa_mm2 && words.cores > 0 ? 1.0 : 0.0;
                }
                const bool is_plain = words.size_as == catalogue::SizeAs::number &&
                                      words.cores == 0 &&
                                      words.construction == catalogue::Construction::unstated;
                return is_plain ? kPlainSize : 1.0;
            },
            kTypesLookedAt);
        evidence.text = percent_text(evidence.share) + " of the values read as cables";
    } else {
        evidence.share = share_of(
            field.values,
            [this](const std::string& text) {
                const catalogue::FuseGuess guess = catalogue::guess_fuse(text, m_catalogue);
                // "Bi-Wts 6A": a device all the same; "6 A" is a rating and no type.
                const bool is_rated = guess.rating_a && base::read_written_number(text).state ==
                                                            base::WrittenNumber::State::none;
                return guess.type.names.empty() && !is_rated ? 0.0 : 1.0;
            },
            kTypesLookedAt);
        evidence.text = percent_text(evidence.share) + " of the values read as fuses";
    }
    return evidence;
}

Evidence EvidenceMaker::of_label(const Target& target, const FieldProfile& field) {
    Evidence evidence;
    evidence.is_weak = true;
    const bool needs_letters = target.field == "road" || target.field == "use";
    evidence.share = share_of(field.values, [&](const std::string& text) {
        return text.size() <= kLongestId && (!needs_letters || has_letters(text)) ? 1.0 : 0.0;
    });
    if (target.field == "taken_on") {
        evidence.share = share_of(field.values, [](const std::string& text) {
            const auto digits = std::count_if(text.begin(), text.end(), [](char c) {
                return std::isdigit(static_cast<unsigned char>(c)) != 0;
            });
            return digits >= 4 ? 1.0 : 0.0;
        });
    }
    const bool is_shared = target.field == "road" || target.field == "area";
    if (is_shared && field.values.total() >= kFewValues &&
        field.values.distinct() >= static_cast<double>(field.values.total())) {
        evidence.share = 0.0; // a name of its own for each is no road or area
    }
    const auto different = std::lround(field.values.distinct());
    evidence.text = std::to_string(different) + " different value" + (different == 1 ? "" : "s");
    return evidence;
}

} // namespace loopwalk::draft
