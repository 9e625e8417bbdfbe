// Names of layers and fields cut into words, and how well they go with a way to call something.
#pragma once

#include "loopwalk/base/unit.hpp"

#include "vocabulary.hpp"

namespace loopwalk::draft {

/// One word of a name.
struct NameWord {
    std::string text;              ///< small plain letters or digits
    std::vector<Concept> concepts; ///< what it may speak of; empty: not known
    double quality = 1.0;          ///< of that: 1 a known word, less for abbreviations
};

/// "LAMP_WATTA" is "lamp" and the beginning of "wattage"; "CABLETYPE", "MastNummer" and
/// "kabellaenge" are two words.
[[nodiscard]] std::vector<NameWord> read_name(std::string_view name, const Vocabulary& vocabulary);

/// What a name is compared with.
struct NameContext {
    base::AssetLayer layer{};
    base::Dimension dimension{}; ///< of the field's unit
};

struct NameMatch {
    double score = 0.0; ///< 0 no match, 1 all words belong and nothing else is said
    bool is_vague = false;
    bool is_old = false;              ///< the name says that another field took its place
    const base::Unit* unit = nullptr; ///< that the name ends in
};
[[nodiscard]] NameMatch match_name(const std::vector<NameWord>& name,
                                   const std::vector<NamePattern>& patterns,
                                   const NameContext& context, const Vocabulary& vocabulary);

/// Whether a word of the name speaks of it.
[[nodiscard]] bool speaks_of(const std::vector<NameWord>& name, Concept which);

} // namespace loopwalk::draft
