#include "type_word_list.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include <algorithm>

namespace loopwalk::catalogue {

// Defined in catalogue_data.cpp, which embed.cmake writes from data/.
extern const std::string_view kTypeWordsTxt;

namespace {

std::vector<std::string> pieces(std::string_view text, char separator) {
    std::vector<std::string> all;
    while (true) {
        const std::size_t end = std::min(text.find(separator), text.size());
        if (const std::string_view piece = base::trimmed(text.substr(0, end)); !piece.empty()) {
            all.emplace_back(piece);
        }
        if (end == text.size()) {
            return all;
        }
        text.remove_prefix(end + 1);
    }
}

[[noreturn]] void fail(std::string_view line) {
    throw base::InternalError("built-in list of type words: not understood: " + std::string(line));
}

/// "a > b", where "_" stands for a blank.
Respelling respelling_of(std::string_view text) {
    std::vector<std::string> sides = pieces(text, '>');
    if (sides.size() != 2) {
        fail(text);
    }
    for (std::string& side : sides) {
        std::replace(side.begin(), side.end(), '_', ' ');
    }
    return {sides[0], sides[1]};
}

/// "pvc copper unarmoured", "twin_and_earth 2".
CableMeaning cable_meaning_of(std::string_view text) {
    static const std::map<std::string, CableMeaning, std::less<>> kMeanings{
        {"xlpe", {Insulation::xlpe, {}, {}, 0}},
        {"pvc", {Insulation::pvc, {}, {}, 0}},
        {"paper", {Insulation::paper, {}, {}, 0}},
        {"copper", {{}, Metal::copper, {}, 0}},
        {"aluminium", {{}, Metal::aluminium, {}, 0}},
        {"swa", {{}, {}, Construction::steel_wire_armour, 0}},
        {"combined", {{}, {}, Construction::combined_concentric, 0}},
        {"split", {{}, {}, Construction::split_concentric, 0}},
        {"twin_and_earth", {{}, {}, Construction::twin_and_earth, 0}},
        {"flex", {{}, {}, Construction::flex, 0}},
        {"unarmoured", {{}, {}, Construction::unarmoured, 0}},
        {"1", {{}, {}, {}, 1}},
        {"2", {{}, {}, {}, 2}}};
    CableMeaning meaning;
    for (const std::string& word : pieces(text, ' ')) {
        const auto found = kMeanings.find(word);
        if (found == kMeanings.end()) {
            fail(text);
        }
        const CableMeaning& one = found->second;
        meaning.insulation = std::max(meaning.insulation, one.insulation);
        meaning.metal = std::max(meaning.metal, one.metal);
        meaning.construction = std::max(meaning.construction, one.construction);
        meaning.cores = std::max(meaning.cores, one.cores);
    }
    return meaning;
}

class ListReader {
  public:
    void read(std::string_view line) {
        const std::size_t colon = line.find(':');
        if (colon == std::string_view::npos) {
            fail(line);
        }
        const std::string key(base::trimmed(line.substr(0, colon)));
        const std::string_view rest = line.substr(colon + 1);
        if (key == "cable even") {
            m_list.cable_spellings.push_back(respelling_of(rest));
        } else if (key == "fuse even") {
            m_list.fuse_spellings.push_back(respelling_of(rest));
        } else if (key.starts_with("cable =")) {
            read_cables(key.substr(key.find('=') + 1), rest);
        } else if (key.starts_with("fuse =")) {
            read_fuses(key.substr(key.find('=') + 1), rest);
        } else {
            plain_list(key, line).merge(set_of(rest));
        }
    }

    [[nodiscard]] TypeWordList take() { return std::move(m_list); }

  private:
    using Words = std::set<std::string, std::less<>>;

    static Words set_of(std::string_view words) {
        const std::vector<std::string> all = pieces(words, ',');
        return {all.begin(), all.end()};
    }

    Words& plain_list(std::string_view key, std::string_view line) {
        if (key == "cable idle") {
            return m_list.idle_cable_words;
        }
        if (key == "fuse idle") {
            return m_list.idle_fuse_words;
        }
        if (key == "fuse breaker") {
            return m_list.breaker_words;
        }
        fail(line);
    }

    void read_cables(std::string_view meaning, std::string_view words) {
        for (const std::string& word : pieces(words, ',')) {
            m_list.cable_words.emplace(word, cable_meaning_of(meaning));
        }
    }

    void read_fuses(std::string_view types, std::string_view words) {
        for (std::string word : pieces(words, ',')) {
            FuseMeaning meaning{pieces(types, '&'), word.starts_with('!')};
            if (meaning.is_exact) {
                word.erase(0, 1);
            }
            m_list.fuse_words.emplace(std::move(word), std::move(meaning));
        }
    }

    TypeWordList m_list;
};

} // namespace

const TypeWordList& type_word_list() {
    static const TypeWordList list = [] {
        ListReader reader;
        for (const std::string& line : pieces(kTypeWordsTxt, '\n')) {
            if (!line.starts_with('#')) {
                reader.read(line);
            }
        }
        return reader.take();
    }();
    return list;
}

std::string evened(std::string_view text, const std::vector<Respelling>& spellings) {
    std::string result = " " + base::folded(text) + " ";
    for (const Respelling& spelling : spellings) {
        for (std::size_t at = result.find(spelling.from); at != std::string::npos;
             at = result.find(spelling.from, at + spelling.to.size())) {
            result.replace(at, spelling.from.size(), spelling.to);
        }
    }
    return result;
}

} // namespace loopwalk::catalogue
