// Words for protective devices: standards, forms, breakers, links, ratings.
#include "loopwalk/base/text.hpp"
#include "loopwalk/catalogue/type_words.hpp"

#include "type_word_list.hpp"
#include <algorithm>
#include <cctype>

namespace loopwalk::catalogue {

namespace {

std::vector<std::string> words_of(const std::string& text) {
    std::vector<std::string> words;
    std::string word;
    for (const char c : text) {
        const bool parts = std::isspace(static_cast<unsigned char>(c)) != 0 || c == ',' ||
                           c == ';' || c == '(' || c == ')' || c == '/' || c == ':';
        if (!parts) {
            word += c;
        } else if (!word.empty()) {
            words.push_back(word);
            word.clear();
        }
    }
    return words;
}

using Names = std::vector<std::string>;

bool holds(const Names& names, const std::string& name) {
    return std::find(names.begin(), names.end(), name) != names.end();
}

/// What a text says about a device.
class Said {
  public:
    Said(const std::vector<std::string>& words, const Catalogue& catalogue) {
        for (const std::string& word : words) {
            if (!by_kind(word) && !by_breaker(word) && !by_rating(word) && !is_empty(word)) {
                left_over.push_back(word);
            }
        }
        name_breaker(catalogue);
    }

    Names left_over;
    Names standards; ///< types that are named outright
    Names kinds;     ///< types that words of the trade allow
    std::optional<double> rating_a;
    bool contradicts = false;

  private:
    bool m_is_breaker = false;
    char m_curve = ' ';

    static bool is_empty(const std::string& word) {
        const bool is_year = word.size() == 4 &&
                             (word.starts_with("19") || word.starts_with("20")) &&
                             base::parse_number(word).has_value(); // of a standard's edition
        return is_year || type_word_list().idle_fuse_words.contains(word);
    }

    bool by_kind(const std::string& word) {
        const auto& words = type_word_list().fuse_words;
        const auto found = words.find(word);
        if (found == words.end()) {
            return false;
        }
        Names names = found->second.types;
        if (found->second.is_exact) {
            standards.insert(standards.end(), names.begin(), names.end());
        } else {
            if (!kinds.empty()) {
                std::erase_if(names, [this](const auto& name) { return !holds(kinds, name); });
            }
            contradicts = contradicts || names.empty();
            kinds = names;
        }
        return true;
    }

    /// "mcb", "b6", "b".
    bool by_breaker(const std::string& word) {
        if (type_word_list().breaker_words.contains(word)) {
            m_is_breaker = true;
            return true;
        }
        const auto rating = base::parse_number(word.substr(1));
        if (word[0] < 'b' || word[0] > 'd' || (word.size() > 1 && !rating)) {
            return false;
        }
        contradicts = contradicts || (m_curve != ' ' && m_curve != word[0]);
        m_curve = word[0];
        m_is_breaker = m_is_breaker || rating.has_value();
        if (rating) {
            rate(*rating);
        }
        return true;
    }

    void rate(double rating) {
        contradicts = contradicts || (rating_a && *rating_a != rating);
        rating_a = rating;
    }

    bool by_rating(const std::string& word) {
        if (!word.ends_with('a')) {
            return false;
        }
        const auto rating = base::parse_number(std::string_view(word).substr(0, word.size() - 1));
        if (!rating || *rating <= 0.0) {
            return false;
        }
        rate(*rating);
        return true;
    }

    /// Breakers are called by their curve, a last word of one letter: "MCB B".
    void name_breaker(const Catalogue& catalogue) {
        if (!m_is_breaker) {
            if (m_curve != ' ') {
                left_over.emplace_back(1, m_curve); // a lone letter
            }
            return;
        }
        contradicts = contradicts || !standards.empty() || !kinds.empty();
        for (const FuseType& type : catalogue.fuses()) {
            const std::string name = base::folded(type.name);
            const bool has_curve = name.size() > 2 && name[name.size() - 2] == ' ';
            if (type.kind != FuseKind::breaker) {
                continue;
            }
            if (m_curve == ' ') {
                kinds.push_back(type.name);
            } else if (has_curve && name.back() == m_curve) {
                standards.push_back(type.name);
            }
        }
    }
};

std::string reason_of(const Said& said, const Names& names) {
    std::string reason = "it names the standard";
    if (said.standards.empty()) {
        reason = said.kinds.empty() ? "no kind of device is said" : "a word of the trade";
    }
    if (names.empty() && !said.kinds.empty()) {
        reason = "no type of the catalogue fits";
    }
    if (names.size() > 1) {
        reason = "not said: the standard";
    }
    constexpr std::size_t kAll = 8;
    if (!said.left_over.empty()) {
        reason += "; not understood: " + base::listed(said.left_over, kAll);
    }
    if (said.contradicts) {
        reason += "; it contradicts itself";
    }
    return reason;
}

} // namespace

FuseGuess guess_fuse(std::string_view text, const Catalogue& catalogue) {
    if (const auto exact = catalogue.find_fuse(text)) {
        FuseGuess guess;
        guess.type = {{catalogue.fuse(*exact).name}, true, "a name of the catalogue"};
        return guess;
    }
    if (base::same_word(text, "none")) {
        FuseGuess guess;
        guess.type = {{"none"}, true, "a word of the field"};
        return guess;
    }
    Said said(words_of(evened(text, type_word_list().fuse_spellings)), catalogue);
    if (said.standards.size() > 1) { // fuses to BS 88-2 have the letters gG on them
        std::erase(said.standards, "gG");
    }
    said.contradicts = said.contradicts || said.standards.size() > 1;
    FuseGuess guess;
    for (const std::string& name : said.standards.empty() ? said.kinds : said.standards) {
        if (name == "none" || catalogue.find_fuse(name)) {
            guess.type.names.push_back(name);
        }
    }
    guess.type.reason = reason_of(said, guess.type.names);
    guess.type.is_sure = said.standards.size() == 1 && guess.type.names.size() == 1 &&
                         said.left_over.empty() && !said.contradicts;
    if (!said.contradicts) {
        guess.rating_a = said.rating_a;
    }
    return guess;
}

} // namespace loopwalk::catalogue
