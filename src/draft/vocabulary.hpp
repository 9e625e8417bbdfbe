// The word lists of data/*.txt: what words in names speak of, what layers and fields may be called,
// and what recorded words may mean.
#pragma once

#include "loopwalk/base/finding.hpp"

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace loopwalk::draft {

/// How well something is known.
enum class Doubt : std::uint8_t { none, some, much };

/// What the words of a name speak of, by position in the list of concepts.
using Concept = std::uint8_t;

/// One way to call a layer or field: concepts in any order.
struct NamePattern {
    std::vector<Concept> concepts;
    bool is_vague = false;  ///< it may mean something else as well
    bool unit_helps = true; ///< unless it ends in the right unit
};

/// What a recorded word may stand for.
struct Meaning {
    std::string word; ///< of the contract; empty: nothing is recorded
    Doubt doubt{};
};

/// What fields of coordinates may be called: words with blanks between, in plain letters.
struct CoordinateNames {
    bool is_degrees = false; ///< longitude or latitude; else easting or northing
    bool is_x = false;
    std::vector<std::string> names;
};

class Vocabulary {
  public:
    /// The lists that are built into the program.
    [[nodiscard]] static const Vocabulary& built_in();

    /// Concepts of a word in small ASCII letters; empty: it is not known.
    [[nodiscard]] const std::vector<Concept>& concepts_of(std::string_view word) const;
    /// Concepts of known words that begin so.
    [[nodiscard]] std::vector<Concept> concepts_beginning(std::string_view letters) const;
    /// Concepts of known words that are written so without their vowels.
    [[nodiscard]] const std::vector<Concept>& concepts_without_vowels(std::string_view word) const;
    /// Throws InternalError if there is none of that name.
    [[nodiscard]] Concept concept_named(std::string_view name) const;

    [[nodiscard]] const std::vector<NamePattern>& names_of(base::AssetLayer layer) const;
    [[nodiscard]] const std::vector<NamePattern>& names_of(base::AssetLayer layer,
                                                           const std::string& field) const;
    /// What a recorded text may mean in a field.
    [[nodiscard]] std::optional<Meaning>
    meaning_of(base::AssetLayer layer, const std::string& field, std::string_view text) const;

    /// Whether the letter may stand between two words that are written together.
    [[nodiscard]] bool may_stand_between(char letter) const;
    /// Whether so short a word may end another.
    [[nodiscard]] bool is_short_ending(std::string_view word) const;
    [[nodiscard]] const std::vector<CoordinateNames>& coordinates() const noexcept {
        return m_coordinates;
    }

  private:
    Vocabulary();
    using Concepts = std::map<std::string, std::vector<Concept>, std::less<>>;
    void read_concepts(std::string_view text);
    void read_names(std::string_view text);
    void read_words(std::string_view text);
    void read_endings(std::string_view text);
    void read_coordinates(std::string_view text);
    void add_word(std::string_view word, Concept which);

    std::vector<std::string> m_concepts; ///< their names
    std::string m_between;
    std::set<std::string, std::less<>> m_short_endings;
    std::vector<CoordinateNames> m_coordinates;
    Concepts m_words, m_without_vowels;
    std::map<std::string, std::vector<NamePattern>> m_names;
    std::map<std::string, std::map<std::string, Meaning>> m_meanings; ///< by field, plain letters
};

/// Small ASCII letters and digits; accents and the like dropped ("Größe": "grosse"), other
/// characters become blanks.
[[nodiscard]] std::string plain_letters(std::string_view text);

} // namespace loopwalk::draft
