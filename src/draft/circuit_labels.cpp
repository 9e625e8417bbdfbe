#include "circuit_labels.hpp"

#include <algorithm>

namespace loopwalk::draft {

namespace {

constexpr double kShared = 0.5; ///< of labels that another layer has too

const ValueCounts& values_of(const LayerGuess& guess, const FieldGuess& field,
                             const std::vector<LayerProfile>& profiles) {
    return find_field(profiles[guess.profile], field.name)->values;
}

/// Where ways have no names of their own, or no labels, the one serves as the other, if it is
/// what the cables have for a label.
void name_ways_by_labels(LayerGuess& guess, const std::vector<LayerGuess>& all,
                         const std::vector<LayerProfile>& profiles) {
    const FieldGuess* way = find_guess(guess.fields, "way");
    const FieldGuess* label = find_guess(guess.fields, "circuit");
    if (guess.role != base::AssetLayer::ways || (way != nullptr) == (label != nullptr)) {
        return;
    }
    FieldGuess same = way != nullptr ? *way : *label;
    same.field = way != nullptr ? "circuit" : "way";
    const bool is_label = std::any_of(all.begin(), all.end(), [&](const LayerGuess& other) {
        const FieldGuess* cables = find_guess(other.fields, "circuit");
        return other.role == base::AssetLayer::cables && cables != nullptr &&
               values_of(guess, same, profiles)
                       .share_found_in(values_of(other, *cables, profiles)) >= kShared;
    });
    if (!is_label) {
        return;
    }
    same.confidence = std::min(same.confidence, Confidence::likely);
    same.reason = "the labels of the cables are among its values";
    const auto known = way != nullptr ? way - guess.fields.data() + 1 : label - guess.fields.data();
    guess.fields.insert(guess.fields.begin() + known, std::move(same));
}

/// A label is sure where another layer has the same labels.
void believe_labels(LayerGuess& guess, const std::vector<LayerGuess>& all,
                    const std::vector<LayerProfile>& profiles) {
    for (FieldGuess& field : guess.fields) {
        if (field.field != "circuit" || field.confidence == Confidence::sure) {
            continue;
        }
        for (const LayerGuess& other : all) {
            const FieldGuess* same = find_guess(other.fields, "circuit");
            if (&other == &guess || same == nullptr || other.confidence == Confidence::unsure) {
                continue;
            }
            const double found =
                values_of(guess, field, profiles).share_found_in(values_of(other, *same, profiles));
            if (found < kShared) {
                continue;
            }
            field.reason += "; " + percent_text(found) + " of them are labels of the " +
                            std::string(base::layer_name(other.role)) + " too";
            field.confidence = Confidence::sure;
            break;
        }
    }
}

} // namespace

void settle_labels(std::vector<LayerGuess>& guesses, const std::vector<LayerProfile>& profiles) {
    for (LayerGuess& guess : guesses) {
        name_ways_by_labels(guess, guesses, profiles);
    }
    for (LayerGuess& guess : guesses) {
        believe_labels(guess, guesses, profiles);
    }
}

} // namespace loopwalk::draft
