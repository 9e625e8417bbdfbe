#include "vocabulary.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include "data_lines.hpp"
#include <algorithm>

namespace loopwalk::draft {

// Defined in draft_data.cpp, which embed.cmake writes from data/*.txt.
extern const std::string_view kConceptsTxt;
extern const std::string_view kNamesTxt;
extern const std::string_view kWordsTxt;
extern const std::string_view kEndingsTxt;
extern const std::string_view kCoordinatesTxt;

namespace {

constexpr std::size_t kShortestAbbreviated = 4; ///< letters of a word that may lack its vowels

void add_once(std::vector<Concept>& concepts, Concept which) {
    if (std::find(concepts.begin(), concepts.end(), which) == concepts.end()) {
        concepts.push_back(which);
    }
}

std::string without_vowels(std::string_view word) {
    std::string result(word.substr(0, 1));
    for (const char c : word.substr(1)) {
        if (std::string_view("aeiou").find(c) == std::string_view::npos) {
            result += c;
        }
    }
    return result;
}

/// Without the blanks: how recorded words are compared.
std::string squeezed(std::string_view text) {
    std::string letters = plain_letters(text);
    std::erase(letters, ' ');
    return letters;
}

const std::vector<NamePattern> kNoNames{};
const std::vector<Concept> kNoConcepts{};

} // namespace

Vocabulary::Vocabulary() {
    read_concepts(kConceptsTxt);
    read_names(kNamesTxt);
    read_words(kWordsTxt);
    read_endings(kEndingsTxt);
    read_coordinates(kCoordinatesTxt);
}

void Vocabulary::read_endings(std::string_view text) {
    for_each_line(text, [this](std::string_view line) {
        const auto [what, words] = sides(line, ':');
        for (const std::string_view word : pieces(words, ' ')) {
            if (what == "between") {
                m_between += word;
            } else {
                m_short_endings.emplace(word);
            }
        }
    });
}

void Vocabulary::read_coordinates(std::string_view text) {
    for_each_line(text, [this](std::string_view line) {
        const auto [what, names] = sides(line, ':');
        CoordinateNames& list = m_coordinates.emplace_back();
        list.is_degrees = what.starts_with("degrees");
        list.is_x = what.ends_with("x");
        for (const std::string_view name : pieces(names, ',')) {
            list.names.emplace_back(name);
        }
    });
}

bool Vocabulary::may_stand_between(char letter) const {
    return m_between.find(letter) != std::string::npos;
}

bool Vocabulary::is_short_ending(std::string_view word) const {
    return m_short_endings.find(word) != m_short_endings.end();
}

const Vocabulary& Vocabulary::built_in() {
    static const Vocabulary vocabulary;
    return vocabulary;
}

void Vocabulary::add_word(std::string_view word, Concept which) {
    add_once(m_words[std::string(word)], which);
    const std::string abbreviated = without_vowels(word);
    if (word.size() >= kShortestAbbreviated && abbreviated.size() >= 3 && abbreviated != word) {
        add_once(m_without_vowels[abbreviated], which);
    }
}

void Vocabulary::read_concepts(std::string_view text) {
    for_each_line(text, [this](std::string_view line) {
        const auto [name, words] = sides(line, ':');
        const auto which = static_cast<Concept>(m_concepts.size());
        m_concepts.push_back(name);
        for (const std::string_view word : pieces(words, ' ')) {
            if (!word.empty()) {
                add_word(word, which);
            }
        }
    });
}

void Vocabulary::read_names(std::string_view text) {
    for_each_line(text, [this](std::string_view line) {
        const auto [field, names] = sides(line, ':');
        for (std::string_view name : pieces(names, '|')) {
            NamePattern pattern;
            pattern.is_vague = name.starts_with('~');
            pattern.unit_helps = !name.starts_with("~~");
            name.remove_prefix(std::min(name.size(), name.find_first_not_of('~')));
            for (const std::string_view word : pieces(name, ' ')) {
                pattern.concepts.push_back(concept_named(word));
            }
            m_names[field].push_back(std::move(pattern));
        }
    });
}

void Vocabulary::read_words(std::string_view text) {
    for_each_line(text, [this](std::string_view line) {
        const auto [field, rest] = sides(line, '=');
        const auto [meaning, words] = sides(rest, ':');
        for (std::string_view word : pieces(words, ',')) {
            const Doubt doubt = word.starts_with('~')   ? Doubt::some
                                : word.starts_with('?') ? Doubt::much
                                                        : Doubt::none;
            if (doubt != Doubt::none) {
                word.remove_prefix(1);
            }
            m_meanings[field].try_emplace(squeezed(word), Meaning{meaning, doubt});
        }
    });
}

const std::vector<Concept>& Vocabulary::concepts_of(std::string_view word) const {
    const auto found = m_words.find(word);
    return found == m_words.end() ? kNoConcepts : found->second;
}

std::vector<Concept> Vocabulary::concepts_beginning(std::string_view letters) const {
    std::vector<Concept> all;
    for (auto word = m_words.lower_bound(letters);
         word != m_words.end() && word->first.starts_with(letters); ++word) {
        for (const Concept which : word->second) {
            add_once(all, which);
        }
    }
    return all;
}

const std::vector<Concept>& Vocabulary::concepts_without_vowels(std::string_view word) const {
    const auto found = m_without_vowels.find(word);
    return found == m_without_vowels.end() ? kNoConcepts : found->second;
}

Concept Vocabulary::concept_named(std::string_view name) const {
    const auto found = std::find(m_concepts.begin(), m_concepts.end(), name);
    if (found == m_concepts.end()) {
        throw base::InternalError("built-in word list: no concept '" + std::string(name) + "'");
    }
    return static_cast<Concept>(found - m_concepts.begin());
}

const std::vector<NamePattern>& Vocabulary::names_of(base::AssetLayer layer) const {
    const auto found = m_names.find(std::string(base::layer_name(layer)));
    return found == m_names.end() ? kNoNames : found->second;
}

const std::vector<NamePattern>& Vocabulary::names_of(base::AssetLayer layer,
                                                     const std::string& field) const {
    auto found = m_names.find(std::string(base::layer_name(layer)) + "." + field);
    if (found == m_names.end()) {
        found = m_names.find(field);
    }
    return found == m_names.end() ? kNoNames : found->second;
}

std::optional<Meaning> Vocabulary::meaning_of(base::AssetLayer layer, const std::string& field,
                                              std::string_view text) const {
    const std::string letters = squeezed(text);
    if (letters.empty()) { // "-", "?", "..."
        return Meaning{{}, Doubt::some};
    }
    for (const std::string& key :
         {std::string(base::layer_name(layer)) + "." + field, field, std::string("*")}) {
        const auto words = m_meanings.find(key);
        if (words == m_meanings.end()) {
            continue;
        }
        const auto found = words->second.find(letters);
        if (found != words->second.end()) {
            return found->second;
        }
    }
    return std::nullopt;
}

} // namespace loopwalk::draft
