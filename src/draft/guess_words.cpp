// What recorded words stand for. Words of the contract and names of the catalogue stand for
// themselves and need no line.
#include "loopwalk/base/text.hpp"
#include "loopwalk/catalogue/type_words.hpp"

#include "type_parts.hpp"
#include <algorithm>

namespace loopwalk::draft {

namespace {

constexpr std::size_t kMostKnown = 200;    ///< translations of one field
constexpr std::size_t kMostUnknown = 1000; ///< words of one field that are listed as not known
constexpr std::size_t kMostNoNumbers = 25; ///< texts that are listed where numbers should stand
constexpr std::size_t kMostNames = 4;      ///< types that a suggestion names
constexpr std::size_t kMostTypes = 1000;   ///< each is compared with the whole catalogue
constexpr double kMostlyRated = 0.5;

Confidence confidence_of(Doubt doubt) {
    switch (doubt) {
    case Doubt::none:
        return Confidence::sure;
    case Doubt::some:
        return Confidence::likely;
    case Doubt::much:
        break;
    }
    return Confidence::unsure;
}

/// Keeps the known ones and as many of the others as a reader will look at.
void add(WordGuess word, WordGuesses& guesses, std::size_t most_unknown = kMostUnknown) {
    const bool is_known = word.confidence != Confidence::unsure;
    const auto count = static_cast<std::size_t>(
        std::count_if(guesses.words.begin(), guesses.words.end(), [is_known](const WordGuess& w) {
            return (w.confidence != Confidence::unsure) == is_known;
        }));
    if (count < (is_known ? kMostKnown : most_unknown)) {
        guesses.words.push_back(std::move(word));
    } else {
        ++guesses.not_listed;
    }
}

WordGuess type_word(const ValueCounts::Entry& entry, const catalogue::TypeGuess& type) {
    WordGuess word{entry.text, entry.count, {}, Confidence::unsure, type.reason};
    if (!type.names.empty()) {
        word.meaning = type.names.front();
    }
    if (type.names.size() > 1) {
        word.reason +=
            "; or " + base::listed({type.names.begin() + 1, type.names.end()}, kMostNames);
    }
    if (type.is_sure && type.names.size() == 1) {
        word.confidence = Confidence::sure;
    }
    return word;
}

class WordGuesser {
  public:
    WordGuesser(const Target& target, const Guides& guides) : m_target(target), m_guides(guides) {}

    [[nodiscard]] WordGuesses guess(const FieldProfile& field) const {
        WordGuesses guesses;
        std::size_t looked_at = 0;
        for (const ValueCounts::Entry& entry : field.values.entries()) {
            if (m_target.allowed.holds != input::Holds::plain && looked_at++ >= kMostTypes) {
                ++guesses.not_listed;
            } else if (m_target.is_number) {
                add_number(entry, guesses);
            } else if (m_target.allowed.holds == input::Holds::cable_type) {
                add_cable(entry, guesses);
            } else if (m_target.allowed.holds == input::Holds::fuse_type) {
                add_fuse(entry, guesses);
            } else if (!m_target.allowed.words.empty()) {
                add_coded(entry, field, guesses);
            }
        }
        return guesses;
    }

  private:
    [[nodiscard]] std::optional<Meaning> meaning(const std::string& text) const {
        return m_guides.vocabulary.meaning_of(m_target.layer, m_target.field, text);
    }

    void add_number(const ValueCounts::Entry& entry, WordGuesses& guesses) const {
        const base::WrittenNumber number = base::read_written_number(entry.text);
        if (number.state == base::WrittenNumber::State::number) {
            const bool is_blank = number.value == 0.0 && !input::admits(m_target.allowed.rule, 0.0);
            if (is_blank) {
                add({entry.text,
                     entry.count,
                     {},
                     Confidence::likely,
                     "no such thing can be 0: not recorded"},
                    guesses);
            }
            return;
        }
        if (number.state == base::WrittenNumber::State::ambiguous) {
            return; // `decimal` decides
        }
        const auto what = meaning(entry.text);
        if (what && what->word.empty()) {
            add({entry.text, entry.count, {}, Confidence::likely, "not recorded"}, guesses);
        } else {
            add({entry.text, entry.count, {}, Confidence::unsure, "no number"}, guesses,
                kMostNoNumbers);
        }
    }

    /// "B" is blue beside red and yellow, and the second phase beside A and C.
    [[nodiscard]] static std::optional<Meaning>
    meaning_of_b(const std::vector<ValueCounts::Entry>& beside) {
        const auto has = [&](std::string_view letter) {
            return std::any_of(beside.begin(), beside.end(), [letter](const auto& entry) {
                return base::same_word(entry.text, letter);
            });
        };
        const bool is_colour = has("r") && has("y");
        const bool is_letter = has("a") && has("c");
        if (is_colour == is_letter) {
            return std::nullopt;
        }
        return Meaning{is_colour ? "L3" : "L2", Doubt::some};
    }

    void add_coded(const ValueCounts::Entry& entry, const FieldProfile& field,
                   WordGuesses& guesses) const {
        const auto& words = m_target.allowed.words;
        if (std::any_of(words.begin(), words.end(),
                        [&](std::string_view word) { return base::same_word(word, entry.text); })) {
            return;
        }
        auto what = meaning(entry.text);
        if (m_target.field == "phase" && base::same_word(entry.text, "b")) {
            what = meaning_of_b(field.values.entries());
        }
        if (!what) {
            add({entry.text,
                 entry.count,
                 {},
                 Confidence::unsure,
                 "not understood; there are: " +
                     base::listed({words.begin(), words.end()}, words.size())},
                guesses);
            return;
        }
        add({entry.text, entry.count, what->word, confidence_of(what->doubt),
             what->word.empty() ? "not recorded" : ""},
            guesses);
    }

    void add_cable(const ValueCounts::Entry& entry, WordGuesses& guesses) const {
        if (m_guides.catalogue.find_cable(entry.text) || add_nothing(entry, guesses)) {
            return;
        }
        add(type_word(entry, catalogue::guess_cable(entry.text, m_guides.catalogue)), guesses);
    }

    void add_fuse(const ValueCounts::Entry& entry, WordGuesses& guesses) const {
        if (m_guides.catalogue.find_fuse(entry.text) || base::same_word(entry.text, "none") ||
            add_nothing(entry, guesses)) {
            return;
        }
        add(type_word(entry, catalogue::guess_fuse(entry.text, m_guides.catalogue).type), guesses);
    }

    [[nodiscard]] bool add_nothing(const ValueCounts::Entry& entry, WordGuesses& guesses) const {
        const auto what = meaning(entry.text);
        if (!what || !what->word.empty()) {
            return false;
        }
        add({entry.text, entry.count, {}, confidence_of(what->doubt), "not recorded"}, guesses);
        return true;
    }

    const Target& m_target;
    const Guides& m_guides;
};

/// Types that are spread over several fields.
WordGuesses joined_words(const TypeParts& parts, const catalogue::Catalogue& catalogue) {
    WordGuesses guesses;
    std::size_t looked_at = 0;
    for (const ValueCounts::Entry& entry : parts.values.entries()) {
        const JoinedType type = joined_type(parts, entry.text);
        if (looked_at++ >= kMostTypes) {
            ++guesses.not_listed;
        } else if (!catalogue.find_cable(type.recorded)) {
            add(type_word({type.recorded, entry.count},
                          catalogue::guess_cable(type.said, catalogue)),
                guesses);
        }
    }
    return guesses;
}

/// The rating in texts such as "HRC 10A".
std::optional<FieldGuess> rating_in_type(const FieldGuess& type, const FieldProfile& field,
                                         const catalogue::Catalogue& catalogue) {
    FieldGuess rating;
    double rated = 0.0;
    for (const ValueCounts::Entry& entry : field.values.entries()) {
        const auto amperes = catalogue::guess_fuse(entry.text, catalogue).rating_a;
        if (!amperes) {
            continue;
        }
        rated += static_cast<double>(entry.count);
        add({entry.text, entry.count, base::number_text(*amperes), Confidence::sure, "its rating"},
            rating.words);
    }
    const double share = rated / static_cast<double>(field.values.total());
    if (rated == 0.0 || share < kMostlyRated) {
        return std::nullopt;
    }
    rating.field = "fuse_a";
    rating.name = type.name;
    rating.confidence = type.confidence;
    rating.reason = percent_text(share) + " of its texts end in a rating";
    return rating;
}

/// How the texts of a layer write decimals, where they all do it alike.
base::DecimalMark decimal_of(const LayerGuess& guess, const LayerProfile& layer,
                             const std::vector<Target>& targets) {
    bool has_comma = false;
    for (const FieldGuess& field : guess.fields) {
        const auto target = std::find_if(targets.begin(), targets.end(),
                                         [&](const Target& t) { return t.field == field.field; });
        const FieldProfile* profile = find_field(layer, field.name);
        if (!target->is_number || profile->kind != gis::FieldKind::text) {
            continue;
        }
        for (const ValueCounts::Entry& entry : profile->values.entries()) {
            if (entry.text.find('.') != std::string::npos) {
                return base::DecimalMark::unstated;
            }
            has_comma = has_comma || base::read_written_number(entry.text).has_comma;
        }
    }
    return has_comma ? base::DecimalMark::comma : base::DecimalMark::unstated;
}

} // namespace

void guess_words(LayerGuess& guess, const LayerProfile& layer, const Guides& guides) {
    const std::vector<Target> targets = targets_of(guess.role);
    guess.decimal = decimal_of(guess, layer, targets);
    for (FieldGuess& field : guess.fields) {
        for (const Target& target : targets) {
            if (target.field == field.field && !field.more_names.empty()) {
                field.words = joined_words(*layer.type_parts, guides.catalogue);
            } else if (target.field == field.field) {
                field.words = WordGuesser(target, guides).guess(*find_field(layer, field.name));
            }
        }
    }
    const FieldGuess* type = find_guess(guess.fields, "fuse_type");
    if (type == nullptr || find_guess(guess.fields, "fuse_a") != nullptr) {
        return;
    }
    if (auto rating = rating_in_type(*type, *find_field(layer, type->name), guides.catalogue)) {
        guess.fields.insert(guess.fields.begin() + (type - guess.fields.data()) + 1,
                            std::move(*rating));
    }
}

} // namespace loopwalk::draft
