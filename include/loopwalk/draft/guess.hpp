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
[[nodiscard]] std::string_view confidence_name(Confidence confidence) noexcept;

/// What was considered and not taken.
struct Rejected {
    std::string name;
    std::string reason;
};

/// A recorded word and what it may stand for.
struct WordGuess {
    std::string recorded;
    std::uint64_t count = 0;
    std::string meaning; ///< of the contract or the catalogue; empty: nothing is recorded
    Confidence confidence{};
    std::string reason;
};

/// The words of one field of the contract that do not stand for themselves.
struct WordGuesses {
    std::vector<WordGuess> words; ///< the most frequent first
    std::size_t not_listed = 0;   ///< further words that are not known
};

struct FieldGuess {
    std::string field;                   ///< of the contract
    std::string name;                    ///< the dataset's
    std::vector<std::string> more_names; ///< further fields, joined to it by a blank
    Confidence confidence{};
    std::string reason;
    bool is_kept = false; ///< unsure for its words alone, which nobody knows: stated all the same
    const base::Unit* unit = nullptr; ///< null: the one of the field's native name
    WordGuesses words;
    std::vector<Rejected> rejected;
    /// Whether the job states it, not as a comment.
    [[nodiscard]] bool is_stated() const noexcept {
        return confidence != Confidence::unsure || is_kept;
    }
};

struct LayerGuess {
    base::AssetLayer role{};
    std::size_t profile = 0; ///< position in Draft::profiles
    Confidence confidence{};
    std::string reason;
    base::DecimalMark decimal = base::DecimalMark::unstated;
    std::vector<FieldGuess> fields;     ///< in the order of the contract
    std::vector<std::string> not_there; ///< native names that here hold something else
    std::vector<std::string> unused;    ///< fields of the dataset that have no part
    std::vector<std::string> remarks;   ///< what else a reader should know
    std::vector<Rejected> rejected;     ///< other layers for the same role
};

struct Draft {
    std::vector<LayerProfile> profiles;
    std::vector<LayerGuess> layers; ///< in the order of base::AssetLayer; several of a role are
                                    ///< its sources
    std::vector<Rejected> unused;   ///< layers that are none of the contract's
    /// The first of a role.
    [[nodiscard]] const LayerGuess* find(base::AssetLayer role) const noexcept;
    [[nodiscard]] std::vector<const LayerGuess*> all_of(base::AssetLayer role) const;
};

[[nodiscard]] Draft guess(std::vector<LayerProfile> profiles,
                          const catalogue::Catalogue& catalogue);

} // namespace loopwalk::draft
