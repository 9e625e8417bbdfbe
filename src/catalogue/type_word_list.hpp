// The word list of data/type_words.txt: what words about cables and fuses mean. For this folder
// only.
#pragma once

#include "loopwalk/catalogue/type_words.hpp"

#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace loopwalk::catalogue {

/// What a word about a cable tells; unstated members say nothing.
struct CableMeaning {
    Insulation insulation{};
    Metal metal{};
    Construction construction{};
    int cores = 0;
};

/// What a word about a protective device tells.
struct FuseMeaning {
    std::vector<std::string> types; ///< of the catalogue, or "none" for a link
    bool is_exact = false;          ///< the word says the standard itself
};

/// A spelling and the one that stands for it.
struct Respelling {
    std::string from, to;
};

struct TypeWordList {
    std::vector<Respelling> cable_spellings, fuse_spellings; ///< in the order of use
    std::map<std::string, CableMeaning, std::less<>> cable_words;
    std::map<std::string, FuseMeaning, std::less<>> fuse_words;
    std::set<std::string, std::less<>> breaker_words;
    std::set<std::string, std::less<>> idle_cable_words, idle_fuse_words; ///< they say nothing
};

/// The list built into the program. Throws InternalError for a line that is not understood.
[[nodiscard]] const TypeWordList& type_word_list();

/// Small letters, with the spellings made even, a blank on either side.
[[nodiscard]] std::string evened(std::string_view text, const std::vector<Respelling>& spellings);

} // namespace loopwalk::catalogue
