// The steps of guess(). For this folder only.
#pragma once

#include "loopwalk/draft/guess.hpp"

#include "evidence.hpp"
#include "name_words.hpp"

namespace loopwalk::draft {

/// What all steps look things up in.
struct Guides {
    const catalogue::Catalogue& catalogue;
    const Vocabulary& vocabulary;
};

/// Fields of a layer that would go with the fields of a role, in the order of the contract, each
/// with the others that were considered. Words are not looked at yet.
[[nodiscard]] std::vector<FieldGuess> guess_fields(const LayerProfile& layer, base::AssetLayer role,
                                                   const IdFields& ids, const Guides& guides);

/// Adds what the words of each field stand for, and the rating of fuses whose type and rating stand
/// in one field.
void guess_words(LayerGuess& guess, const LayerProfile& layer, const Guides& guides);

/// Features of another role among the columns, by their kind: the job must tell them apart.
void note_other_kinds(LayerGuess& guess, const LayerProfile& layer, const Guides& guides);

/// Which layer has which role; every layer at most one.
[[nodiscard]] std::vector<LayerGuess> guess_roles(const std::vector<LayerProfile>& profiles,
                                                  const Guides& guides,
                                                  std::vector<Rejected>& unused);

[[nodiscard]] const FieldProfile* find_field(const LayerProfile& layer, std::string_view name);
/// A field that is guessed, whatever the confidence.
[[nodiscard]] const FieldGuess* find_guess(const std::vector<FieldGuess>& fields,
                                           std::string_view field);

} // namespace loopwalk::draft
