#include "name_words.hpp"

#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <array>
#include <cctype>

namespace loopwalk::draft {

namespace {

using base::AssetLayer;

constexpr std::size_t kCutLength = 10; ///< names of shapefile fields are cut to so many letters
constexpr std::size_t kShortestBeginning = 3;
constexpr std::size_t kShortestPiece = 3; ///< of words written together
constexpr double kAbbreviated = 0.9;
constexpr double kCut = 0.92;
constexpr double kBeginning = 0.8;
constexpr double kUnclearBeginning = 0.6;

constexpr double kUnknownWord = 0.6; ///< factor for each word that says something else
constexpr double kVague = 0.7;
constexpr double kOld = 0.5;
constexpr double kOtherUnit = 0.4; ///< "LOAD_KVA" is none in watts
constexpr double kNumbered = 0.8;  ///< "LAMP2"

enum class CharKind : std::uint8_t { lower, upper, digit, other };

CharKind kind_of(char c) {
    const auto u = static_cast<unsigned char>(c);
    if (std::isdigit(u) != 0) {
        return CharKind::digit;
    }
    if (std::isupper(u) != 0) {
        return CharKind::upper;
    }
    return std::isalpha(u) != 0 || u >= 0x80U ? CharKind::lower : CharKind::other;
}

/// Cut at separators, before digits and where small letters meet a capital: "LampWatts_2".
std::vector<std::string> chunks(std::string_view name) {
    std::vector<std::string> all;
    std::string chunk;
    CharKind last = CharKind::other;
    const auto finish = [&] {
        std::string letters = plain_letters(chunk);
        std::erase(letters, ' ');
        const bool is_square = letters == "2" && !all.empty() && all.back() == "mm";
        if (is_square) {
            all.back() += letters;
        } else if (!letters.empty()) {
            all.push_back(std::move(letters));
        }
        chunk.clear();
    };
    for (const char c : name) {
        const CharKind kind = kind_of(c);
        const bool is_new = kind == CharKind::other ||
                            (kind == CharKind::digit) != (last == CharKind::digit) ||
                            (kind == CharKind::upper && last == CharKind::lower);
        if (is_new) {
            finish();
        }
        if (kind != CharKind::other) {
            chunk += c;
        }
        last = kind;
    }
    finish();
    return all;
}

bool is_unit(std::string_view word) {
    return base::find_unit(word) != nullptr;
}

/// A word may end another only if it is long, or known for that.
bool may_end(std::string_view piece, const Vocabulary& vocabulary) {
    return piece.size() >= kShortestPiece || vocabulary.is_short_ending(piece);
}

/// Where the next word may begin behind a word that ends at `end`: there, or behind a letter that
/// stands between ("Leistungsfaktor").
std::vector<std::size_t> next_starts(std::string_view chunk, std::size_t end,
                                     const Vocabulary& vocabulary) {
    std::vector<std::size_t> starts{end};
    if (end + 1 < chunk.size() && vocabulary.may_stand_between(chunk[end])) {
        starts.push_back(end + 1);
    }
    return starts;
}

/// Known words that make up a chunk, each as long as can be; empty if it cannot be cut so.
std::vector<std::string> known_pieces(std::string_view chunk, const Vocabulary& vocabulary) {
    const auto is_piece = [&](std::string_view piece, bool is_first, bool is_last) {
        const bool is_known = !vocabulary.concepts_of(piece).empty();
        if (is_last && !is_first && may_end(piece, vocabulary)) {
            return is_known || is_unit(piece);
        }
        return is_known && piece.size() >= kShortestPiece;
    };
    // By where they begin, from the end: the words that the rest of the chunk is made of.
    std::vector<std::vector<std::string>> rests(chunk.size() + 1);
    for (std::size_t start = chunk.size(); start-- > 0;) {
        for (std::size_t end = chunk.size(); end > start && rests[start].empty(); --end) {
            const std::string_view head = chunk.substr(start, end - start);
            if (!is_piece(head, start == 0, end == chunk.size())) {
                continue;
            }
            for (const std::size_t next : next_starts(chunk, end, vocabulary)) {
                if (next < chunk.size() && rests[next].empty()) {
                    continue;
                }
                rests[start].assign(1, std::string(head));
                rests[start].insert(rests[start].end(), rests[next].begin(), rests[next].end());
                break;
            }
        }
    }
    return rests.front();
}

NameWord known_word(std::string text, const Vocabulary& vocabulary) {
    NameWord word{std::move(text), {}, 1.0};
    word.concepts = vocabulary.concepts_of(word.text);
    return word;
}

/// A word that is not known: an abbreviation, or the beginning of a known one.
NameWord guessed_word(std::string text, bool is_cut, const Vocabulary& vocabulary) {
    NameWord word{std::move(text), {}, 1.0};
    word.concepts = vocabulary.concepts_without_vowels(word.text);
    word.quality = kAbbreviated;
    if (word.concepts.empty() && word.text.size() >= kShortestBeginning) {
        word.concepts = vocabulary.concepts_beginning(word.text);
        word.quality = is_cut ? kCut : word.concepts.size() == 1 ? kBeginning : kUnclearBeginning;
    }
    return word;
}

/// The longest known word that a cut chunk begins with, if its rest begins another: "watta",
/// "cablelengt".
std::vector<NameWord> cut_pieces(const std::string& chunk, const Vocabulary& vocabulary) {
    for (std::size_t length = chunk.size() - 1; length >= kShortestPiece; --length) {
        const std::string head = chunk.substr(0, length);
        if (vocabulary.concepts_of(head).empty() || chunk.size() - length < 2) {
            continue;
        }
        NameWord rest{chunk.substr(length), {}, kCut};
        rest.concepts = vocabulary.concepts_beginning(rest.text);
        if (!rest.concepts.empty()) {
            return {known_word(head, vocabulary), std::move(rest)};
        }
    }
    return {};
}

/// Concepts that every name in a layer may mention without saying more.
std::vector<Concept> idle_concepts(AssetLayer layer, const Vocabulary& vocabulary) {
    std::vector<std::string_view> names{"noise", "asset", "lighting"};
    switch (layer) {
    case AssetLayer::columns:
        names.emplace_back("column");
        break;
    case AssetLayer::cables:
        names.emplace_back("cable");
        break;
    case AssetLayer::supplies:
        names.insert(names.end(), {"supply", "pillar"});
        break;
    case AssetLayer::ways:
        names.insert(names.end(), {"way"});
        break;
    case AssetLayer::joints:
        names.emplace_back("joint");
        break;
    case AssetLayer::mains:
        names.insert(names.end(), {"main", "cable"});
        break;
    case AssetLayer::terminations:
        names.emplace_back("termination");
        break;
    case AssetLayer::loads:
        names.emplace_back("load");
        break;
    case AssetLayer::readings:
        names.emplace_back("reading");
        break;
    }
    std::vector<Concept> concepts;
    concepts.reserve(names.size());
    for (const std::string_view name : names) {
        concepts.push_back(vocabulary.concept_named(name));
    }
    return concepts;
}

bool shares(const std::vector<Concept>& a, const std::vector<Concept>& b) {
    return std::any_of(a.begin(), a.end(), [&](Concept which) {
        return std::find(b.begin(), b.end(), which) != b.end();
    });
}

/// Words of the name for each concept of a pattern.
struct Cover {
    double score = 0.0; ///< 0: some concept has no word of its own
    std::vector<bool> used;
};

/// The words that speak of each concept; tried in turn, since patterns and names are short.
Cover cover(const std::vector<NameWord>& name, const std::vector<Concept>& concepts) {
    std::vector<std::vector<std::size_t>> words(concepts.size());
    for (std::size_t c = 0; c < concepts.size(); ++c) {
        for (std::size_t i = 0; i < name.size(); ++i) {
            if (shares({concepts[c]}, name[i].concepts)) {
                words[c].push_back(i);
            }
        }
        if (words[c].empty()) {
            return {};
        }
    }
    Cover best;
    std::vector<std::size_t> choice(concepts.size(), 0); // counts up, the first place fastest
    for (bool is_more = true; is_more;) {
        Cover tried{1.0, std::vector<bool>(name.size(), false)};
        for (std::size_t c = 0; c < concepts.size(); ++c) {
            const std::size_t word = words[c][choice[c]];
            tried.score *= tried.used[word] ? 0.0 : name[word].quality;
            tried.used[word] = true;
        }
        if (tried.score > best.score) {
            best = tried;
        }
        is_more = false;
        for (std::size_t c = 0; c < concepts.size() && !is_more; ++c) {
            is_more = ++choice[c] < words[c].size();
            if (!is_more) {
                choice[c] = 0;
            }
        }
    }
    return best;
}

class Matcher {
  public:
    Matcher(const std::vector<NameWord>& name, const NameContext& context,
            const Vocabulary& vocabulary)
        : m_name(name), m_dimension(context.dimension),
          m_idle(idle_concepts(context.layer, vocabulary)), m_old{vocabulary.concept_named("old")} {
    }

    [[nodiscard]] NameMatch match(const NamePattern& pattern) const {
        NameMatch match;
        const auto [score, used] = cover(m_name, pattern.concepts);
        match.score = score;
        if (match.score == 0.0) {
            return match;
        }
        bool has_own_unit = false; // "FUSE_A" is a rating; the watts of "LAMP_WATTS" say no more
        for (std::size_t i = 0; i < m_name.size(); ++i) {
            weigh(i, used[i], pattern, match);
            has_own_unit = has_own_unit || (!used[i] && match.unit != nullptr &&
                                            match.unit == base::find_unit(m_name[i].text));
        }
        match.is_vague = pattern.is_vague && !(has_own_unit && pattern.unit_helps);
        if (match.is_vague) {
            match.score *= kVague;
        }
        return match;
    }

  private:
    void weigh(std::size_t i, bool is_used, const NamePattern& pattern, NameMatch& match) const {
        const NameWord& word = m_name[i];
        const base::Unit* unit = base::find_unit(word.text);
        if (unit != nullptr && m_dimension != base::Dimension::none &&
            unit->dimension == m_dimension) {
            match.unit = unit;
            return;
        }
        if (is_used || shares(word.concepts, pattern.concepts)) {
            return;
        }
        const bool is_number = std::isdigit(static_cast<unsigned char>(word.text.front())) != 0;
        if (word.quality == 1.0 && shares(word.concepts, m_old)) {
            match.is_old = true;
            match.score *= kOld;
        } else if (unit != nullptr && m_dimension != base::Dimension::none) {
            match.score *= kOtherUnit;
        } else if (is_number) {
            match.score *= kNumbered;
        } else if (!shares(word.concepts, m_idle)) {
            match.score *= kUnknownWord;
        }
    }

    const std::vector<NameWord>& m_name;
    base::Dimension m_dimension;
    std::vector<Concept> m_idle, m_old;
};

} // namespace

std::vector<NameWord> read_name(std::string_view name, const Vocabulary& vocabulary) {
    std::vector<NameWord> words;
    const std::vector<std::string> all = chunks(name);
    for (std::size_t i = 0; i < all.size(); ++i) {
        const std::vector<std::string> pieces = known_pieces(all[i], vocabulary);
        const bool is_cut = name.size() == kCutLength && i + 1 == all.size();
        if (pieces.empty() && all[i].size() > kShortestPiece && is_cut) {
            if (std::vector<NameWord> cut = cut_pieces(all[i], vocabulary);
                !cut.empty() && vocabulary.concepts_beginning(all[i]).empty()) {
                words.insert(words.end(), cut.begin(), cut.end());
                continue;
            }
        }
        if (pieces.empty()) {
            words.push_back(is_unit(all[i]) || !vocabulary.concepts_of(all[i]).empty()
                                ? known_word(all[i], vocabulary)
                                : guessed_word(all[i], is_cut, vocabulary));
        }
        for (const std::string& piece : pieces) {
            words.push_back(known_word(piece, vocabulary));
        }
    }
    return words;
}

NameMatch match_name(const std::vector<NameWord>& name, const std::vector<NamePattern>& patterns,
                     const NameContext& context, const Vocabulary& vocabulary) {
    const Matcher matcher(name, context, vocabulary);
    NameMatch best;
    for (const NamePattern& pattern : patterns) {
        if (const NameMatch match = matcher.match(pattern); match.score > best.score) {
            best = match;
        }
    }
    return best;
}

bool speaks_of(const std::vector<NameWord>& name, Concept which) {
    return std::any_of(name.begin(), name.end(), [which](const NameWord& word) {
        return word.quality == 1.0 &&
               std::find(word.concepts.begin(), word.concepts.end(), which) != word.concepts.end();
    });
}

} // namespace loopwalk::draft
