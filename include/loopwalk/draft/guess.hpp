// Which layer of the records is which layer of the contract, which field holds what, in which unit,
// and what its words stand for: guesses with a confidence and a reason.
#pragma once

#include "loopwalk/base/finding.hpp"
#include "loopwalk/base/written_number.hpp"
#include "loopwalk/catalogue/catalogue.hpp"
#include "loopwalk/draft/profile.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace loopwalk::draft {

/// The draft states what is sure and what is likely, and lists what is unsure as a comment.
enum class Confidence : std::uint8_t { unsure, likely, sure };
/// "unsure", "likely" or "sure".
[[nodiscard]] std::string_view confidence_name(Confidence confidence) noexcept;

/// What was considered and not taken.
struct Rejected {
    std::string name;   ///< of the field or layer
    std::string reason; ///< why it was not taken
};

/// A recorded word and what it may stand for.
struct WordGuess {
    std::string recorded;    ///< as it stands in the dataset
    std::uint64_t count = 0; ///< how often it occurs
    std::string meaning;     ///< of the contract or the catalogue; empty: nothing is recorded
    Confidence confidence{}; ///< that it means that
    std::string reason;      ///< for the reader of the draft
};

/// The words of one field of the contract that do not stand for themselves.
struct WordGuesses {
    std::vector<WordGuess> words; ///< the most frequent first
    std::size_t not_listed = 0;   ///< further words that are not known
};

/// Which field of the dataset holds a field of the contract.
struct FieldGuess {
    std::string field;                   ///< of the contract
    std::string name;                    ///< the dataset's
    std::vector<std::string> more_names; ///< further fields, joined to it by a blank
    Confidence confidence{};             ///< that it holds that
    std::string reason;                  ///< for the reader of the draft
    bool is_kept = false; ///< unsure for its words alone, which nobody knows: stated all the same
    const base::Unit* unit = nullptr; ///< null: the one of the field's native name
    WordGuesses words;                ///< only of fields with coded words or names of types
    std::vector<Rejected> rejected;   ///< other fields that might hold it
    /// Whether the job states it, not as a comment.
    [[nodiscard]] bool is_stated() const noexcept {
        return confidence != Confidence::unsure || is_kept;
    }
};

/// Which layer of a dataset has a role.
struct LayerGuess {
    base::AssetLayer role{};                                 ///< the layer of the contract
    std::size_t profile = 0;                                 ///< position in Draft::profiles
    Confidence confidence{};                                 ///< that it has that role
    std::string reason;                                      ///< for the reader of the draft
    base::DecimalMark decimal = base::DecimalMark::unstated; ///< of its numbers that are texts
    std::vector<FieldGuess> fields;                          ///< in the order of the contract
    std::vector<std::string> not_there; ///< native names that here hold something else
    std::vector<std::string> unused;    ///< fields of the dataset that have no part
    std::vector<std::string> remarks;   ///< what else a reader should know
    std::vector<Rejected> rejected;     ///< other layers for the same role
};

/// What a job file is written from.
struct Draft {
    std::vector<LayerProfile> profiles; ///< of all layers that were looked at
    std::vector<LayerGuess> layers;     ///< in the order of base::AssetLayer; several of a role are
                                        ///< its sources
    std::vector<Rejected> unused;       ///< layers that are none of the contract's
    /// The first of a role.
    [[nodiscard]] const LayerGuess* find(base::AssetLayer role) const noexcept;
    /// All of a role, in the order of the datasets.
    [[nodiscard]] std::vector<const LayerGuess*> all_of(base::AssetLayer role) const;
};

/// Gives each role its layers and each field of the contract its field. Throws nothing of its own:
/// what does not fit stays without a part.
[[nodiscard]] Draft guess(std::vector<LayerProfile> profiles,
                          const catalogue::Catalogue& catalogue);

} // namespace loopwalk::draft
