#include "type_parts.hpp"

#include "loopwalk/base/text.hpp"
#include "loopwalk/catalogue/type_words.hpp"

#include <algorithm>
#include <array>

namespace loopwalk::draft {

namespace {

using base::AssetLayer;

constexpr std::array<std::string_view, 6> kParts{"cores",  "size",  "insulation",
                                                 "armour", "metal", "kind"};
constexpr double kPlainName = 0.9;
constexpr double kLeastRead = 0.75;        ///< share of the joined values that read as cables
constexpr double kSaysMore = 0.1;          ///< by which the joined ones must be plainer
constexpr std::size_t kMostLookedAt = 200; ///< each is compared with the whole catalogue

/// How much of a field is read as cables, and how little that leaves open: 1 where each value fits
/// one row of the catalogue, a third where it fits three.
struct Plainness {
    double read = 0.0;
    double plain = 0.0;
};

template <class Text>
Plainness plainness_of(const ValueCounts& values, const catalogue::Catalogue& catalogue,
                       Text text) {
    Plainness result;
    double all = 0.0;
    std::size_t looked_at = 0;
    for (const ValueCounts::Entry& entry : values.entries()) {
        if (looked_at++ == kMostLookedAt) {
            break;
        }
        const auto count = static_cast<double>(entry.count);
        const catalogue::TypeGuess guess = catalogue::guess_cable(text(entry.text), catalogue);
        all += count;
        if (guess.names.empty()) {
            continue;
        }
        result.read += count;
        result.plain += count / static_cast<double>(guess.names.size());
    }
    if (all > 0.0) {
        result.read /= all;
        result.plain /= all;
    }
    return result;
}

/// The field whose name is plainly that of a part; the first of equals.
std::optional<std::size_t> field_of_part(const std::vector<gis::FieldInfo>& fields,
                                         std::string_view part, const Vocabulary& vocabulary) {
    const auto& patterns = vocabulary.names_of(AssetLayer::cables, "part." + std::string(part));
    for (std::size_t i = 0; i < fields.size(); ++i) {
        const NameMatch match = match_name(read_name(fields[i].name, vocabulary), patterns,
                                           {AssetLayer::cables, base::Dimension::area}, vocabulary);
        if (match.score >= kPlainName && !match.is_old) {
            return i;
        }
    }
    return std::nullopt;
}

std::size_t rank_of(const std::vector<Target>& targets, const std::string& field) {
    const auto found = std::find_if(targets.begin(), targets.end(),
                                    [&](const Target& target) { return target.field == field; });
    return static_cast<std::size_t>(found - targets.begin());
}

} // namespace

std::optional<TypeParts> find_type_parts(const std::vector<gis::FieldInfo>& fields,
                                         const Vocabulary& vocabulary) {
    TypeParts parts;
    for (const std::string_view part : kParts) {
        const auto field = field_of_part(fields, part, vocabulary);
        if (!field ||
            std::find(parts.fields.begin(), parts.fields.end(), *field) != parts.fields.end()) {
            continue;
        }
        if (part == "cores") {
            parts.cores = parts.fields.size();
        }
        if (part == "size") {
            parts.size = parts.fields.size();
        }
        parts.fields.push_back(*field);
    }
    if (!parts.size || parts.fields.size() < 2) {
        return std::nullopt;
    }
    return parts;
}

JoinedType joined_type(const TypeParts& parts, std::string_view value) {
    JoinedType joined;
    for (std::size_t i = 0; i < parts.fields.size(); ++i) {
        const std::size_t end = std::min(value.find(TypeParts::kBetween), value.size());
        const std::string part(value.substr(0, end));
        value.remove_prefix(std::min(end + 1, value.size()));
        if (part.empty()) {
            continue;
        }
        const bool is_number = base::parse_number(part).has_value();
        const char* const unit = !is_number         ? ""
                                 : parts.cores == i ? "c"
                                 : parts.size == i  ? "mm2"
                                                    : "";
        joined.recorded += (joined.recorded.empty() ? "" : " ") + part;
        joined.said += (joined.said.empty() ? "" : " ") + part + unit;
    }
    return joined;
}

void join_type_parts(std::vector<FieldGuess>& guesses, const LayerProfile& layer, AssetLayer role,
                     const Guides& guides) {
    const bool has_types = role == AssetLayer::cables || role == AssetLayer::mains;
    if (!has_types || !layer.type_parts || layer.type_parts->values.total() == 0) {
        return;
    }
    const TypeParts& parts = *layer.type_parts;
    const Plainness joined =
        plainness_of(parts.values, guides.catalogue,
                     [&](const std::string& text) { return joined_type(parts, text).said; });
    const FieldGuess* one = find_guess(guesses, "cable_type");
    const Plainness alone =
        one == nullptr ? Plainness()
                       : plainness_of(find_field(layer, one->name)->values, guides.catalogue,
                                      [](const std::string& text) { return text; });
    if (joined.read < kLeastRead || joined.plain < alone.plain + kSaysMore) {
        return;
    }
    FieldGuess guess;
    guess.field = "cable_type";
    for (const std::size_t field : parts.fields) {
        guess.more_names.push_back(layer.fields[field].name);
    }
    std::erase_if(guesses, [&](const FieldGuess& other) {
        return other.field == guess.field ||
               std::find(guess.more_names.begin(), guess.more_names.end(), other.name) !=
                   guess.more_names.end();
    });
    guess.name = guess.more_names.front();
    guess.more_names.erase(guess.more_names.begin());
    guess.confidence = Confidence::likely;
    guess.reason = "the type is spread over these fields; " + percent_text(joined.read) +
                   " of the joined values read as cables";
    guesses.push_back(std::move(guess));
    const std::vector<Target> targets = targets_of(role);
    std::stable_sort(guesses.begin(), guesses.end(), [&](const auto& a, const auto& b) {
        return rank_of(targets, a.field) < rank_of(targets, b.field);
    });
}

} // namespace loopwalk::draft
