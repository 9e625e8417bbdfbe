#include "loopwalk/draft/guess.hpp"

#include "loopwalk/base/text.hpp"
#include "loopwalk/config/contract_fields.hpp"

#include "guess_parts.hpp"
#include <algorithm>

namespace loopwalk::draft {

namespace {

/// The reader finds fields by their native names unless the job says otherwise.
void note_native_names(LayerGuess& guess, const LayerProfile& layer) {
    for (const config::FieldRule& rule : config::contract_fields(guess.role)) {
        const bool is_there =
            std::any_of(layer.fields.begin(), layer.fields.end(), [&](const FieldProfile& field) {
                return base::same_word(field.name, rule.name);
            });
        const FieldGuess* known = find_guess(guess.fields, rule.name);
        const bool is_taken = known != nullptr && known->is_stated();
        if (is_there && !is_taken && !rule.needed) {
            guess.not_there.push_back(rule.name);
        }
    }
}

void note_missing_geometry(LayerGuess& guess, const LayerProfile& layer) {
    const std::uint64_t without = layer.shapes[static_cast<std::size_t>(Shape::none)];
    if (layer.shape() == Shape::none || without == 0) {
        return;
    }
    guess.remarks.push_back(std::to_string(without) + " of its " + std::to_string(layer.features) +
                            " features have no geometry: they cannot be traced");
}

/// A layer of one feature has no distances: it follows the others.
void spread_degrees(std::vector<LayerProfile>& profiles) {
    for (LayerProfile& layer : profiles) {
        layer.is_beside_degrees =
            layer.may_be_degrees() &&
            std::any_of(profiles.begin(), profiles.end(), [&](const LayerProfile& other) {
                return other.looks_like_degrees() && other.system == layer.system;
            });
    }
}

/// Where no field identifies the features, their feature ids do.
void propose_feature_ids(LayerGuess& guess, const LayerProfile& layer) {
    for (const Target& target : targets_of(guess.role)) {
        const bool has_native =
            std::any_of(layer.fields.begin(), layer.fields.end(), [&](const FieldProfile& field) {
                return base::same_word(field.name, target.field) ||
                       base::same_word(field.name, "fid");
            });
        const auto known =
            std::find_if(guess.fields.begin(), guess.fields.end(),
                         [&](const FieldGuess& field) { return field.field == target.field; });
        const bool is_known = known != guess.fields.end();
        if (!target.is_id || has_native || (is_known && known->is_stated())) {
            continue;
        }
        FieldGuess id;
        id.field = target.field;
        id.name = "FID";
        id.confidence = Confidence::likely;
        id.reason =
            "no field plainly identifies the features; their feature ids do, until somebody "
            "exports them anew";
        if (is_known) {
            id.rejected.push_back({known->name, known->reason});
            guess.fields.erase(known);
        }
        guess.fields.push_back(std::move(id)); // ids stand first
        std::rotate(guess.fields.begin(), guess.fields.end() - 1, guess.fields.end());
    }
}

/// Nothing is surer than that the layer is the right one at all.
void doubt_fields(LayerGuess& guess) {
    if (guess.confidence != Confidence::unsure) {
        return;
    }
    for (FieldGuess& field : guess.fields) {
        field.confidence = Confidence::unsure;
        for (WordGuess& word : field.words.words) {
            word.confidence = Confidence::unsure;
        }
    }
}

/// Texts of coordinates tell how the layer writes decimals.
void take_decimal(LayerGuess& guess, const LayerProfile& layer) {
    if (layer.place_fields && layer.place_fields->mark == base::DecimalMark::comma) {
        guess.decimal = base::DecimalMark::comma;
    }
}

void note_unused(LayerGuess& guess, const LayerProfile& layer) {
    for (std::size_t i = 0; i < layer.fields.size(); ++i) {
        const FieldProfile& field = layer.fields[i];
        if (layer.place_fields && (i == layer.place_fields->x || i == layer.place_fields->y)) {
            continue;
        }
        const bool has_part =
            std::any_of(guess.fields.begin(), guess.fields.end(), [&](const FieldGuess& g) {
                return g.name == field.name || std::find(g.more_names.begin(), g.more_names.end(),
                                                         field.name) != g.more_names.end();
            });
        if (!has_part) {
            guess.unused.push_back(field.name);
        }
    }
}

} // namespace

std::string_view confidence_name(Confidence confidence) noexcept {
    switch (confidence) {
    case Confidence::unsure:
        return "unsure";
    case Confidence::likely:
        return "likely";
    case Confidence::sure:
        break;
    }
    return "sure";
}

const LayerGuess* Draft::find(base::AssetLayer role) const noexcept {
    const auto found = std::find_if(layers.begin(), layers.end(),
                                    [role](const LayerGuess& g) { return g.role == role; });
    return found == layers.end() ? nullptr : &*found;
}

std::vector<const LayerGuess*> Draft::all_of(base::AssetLayer role) const {
    std::vector<const LayerGuess*> all;
    for (const LayerGuess& guess : layers) {
        if (guess.role == role) {
            all.push_back(&guess);
        }
    }
    return all;
}

Draft guess(std::vector<LayerProfile> profiles, const catalogue::Catalogue& catalogue) {
    const Guides guides{catalogue, Vocabulary::built_in()};
    Draft draft;
    draft.profiles = std::move(profiles);
    spread_degrees(draft.profiles);
    draft.layers = guess_roles(draft.profiles, guides, draft.unused);
    for (LayerGuess& guess : draft.layers) {
        const LayerProfile& layer = draft.profiles[guess.profile];
        guess_words(guess, layer, guides);
        note_other_kinds(guess, layer, guides);
        note_missing_geometry(guess, layer);
        propose_feature_ids(guess, layer);
        note_native_names(guess, layer);
        take_decimal(guess, layer);
        doubt_fields(guess);
        note_unused(guess, layer);
    }
    return draft;
}

} // namespace loopwalk::draft
