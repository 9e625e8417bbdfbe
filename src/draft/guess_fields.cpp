// Names and values of the fields of one layer against the fields of one role. Every pair gets a
// score; the best pairs are taken first, and a field has one part only.
#include "loopwalk/base/text.hpp"
#include "loopwalk/config/contract_fields.hpp"

#include "type_parts.hpp"
#include <algorithm>
#include <tuple>

namespace loopwalk::draft {

namespace {

constexpr double kLeastScore = 0.25; ///< below, a pair is not worth a word
constexpr double kLeastShare = 0.5;  ///< of the values that go with the field
constexpr double kSureName = 0.9;
constexpr double kSureShare = 0.97;
constexpr double kLikelyName = 0.5;
constexpr double kLikelyShare = 0.75;
constexpr double kRival = 0.1;       ///< scores closer than this: the second might be the one
constexpr double kEmptyField = 0.4;  ///< factor for a field that holds nothing
constexpr double kFillWeight = 0.15; ///< of two alike, the fuller
constexpr double kByValuesAlone = 0.5;
constexpr double kSpokenName = 0.6;    ///< of a name, where no word of the field is known
constexpr double kMostCodeWords = 100; ///< more different ones are free text

struct Pair {
    std::size_t target = 0;
    std::size_t field = 0;
    double score = 0.0;
    NameMatch name;
    bool is_native = false;    ///< called as in the contract
    bool is_by_values = false; ///< the name tells nothing
    bool is_unread = false;    ///< what it holds is not understood
    Evidence evidence;
};

Confidence at_most(Confidence confidence, Confidence most) {
    return std::min(confidence, most);
}

/// A name that says this and nothing else.
bool has_plain_name(const Pair& pair) {
    const bool is_vague = pair.name.is_vague && !(pair.is_native && pair.evidence.is_native);
    return !is_vague && (pair.is_native || pair.name.score >= kSureName);
}

/// What the values speak against.
bool is_contradicted(const Pair& pair) {
    return pair.name.is_old || pair.evidence.unit_is_doubtful || pair.evidence.share < kLikelyShare;
}

/// Of a name that is not the contract's own.
Confidence confidence_of_other_name(const Pair& pair, const Target& target) {
    const bool nearly_all_fit = pair.evidence.share >= kSureShare;
    if (pair.is_by_values || (pair.name.is_vague && target.is_id)) {
        return nearly_all_fit ? Confidence::likely : Confidence::unsure;
    }
    const bool is_too_vague = pair.name.is_vague && (pair.evidence.is_weak || !nearly_all_fit);
    return pair.name.score < kLikelyName || is_too_vague ? Confidence::unsure : Confidence::likely;
}

Confidence confidence_of(const Pair& pair, const Target& target) {
    const Evidence& evidence = pair.evidence;
    if (pair.is_unread) {
        return Confidence::unsure;
    }
    if (evidence.share == 0.0) { // an empty field
        return has_plain_name(pair) && !pair.name.is_old ? Confidence::likely : Confidence::unsure;
    }
    if (is_contradicted(pair)) {
        return pair.is_native && evidence.share >= kLeastShare ? Confidence::likely
                                                               : Confidence::unsure;
    }
    // A label of a way is believed where other records use it too; see guess_roles.cpp.
    const bool is_label = target.field == "circuit";
    const bool is_other_unit =
        evidence.unit != nullptr && pair.name.unit == nullptr && !evidence.unit_is_proved;
    if (has_plain_name(pair) && evidence.share >= kSureShare && !is_label && !is_other_unit) {
        return Confidence::sure;
    }
    return pair.is_native ? Confidence::likely : confidence_of_other_name(pair, target);
}

std::string reason_of(const Pair& pair, const Target& target) {
    std::string reason = "the name";
    if (pair.is_native) {
        reason = "the native name";
    } else if (pair.is_by_values) {
        reason = "the name tells nothing";
    } else if (pair.name.is_old) {
        reason = "the name is that of an older field";
    } else if (pair.name.is_vague) {
        reason = "a name that may mean something else";
    } else if (pair.name.score < kSureName) {
        reason = "part of the name";
    }
    if (pair.name.is_vague && !pair.is_native && target.field == "load_w") {
        reason += " (the lamp alone, or with its gear?)";
    }
    return pair.evidence.text.empty() ? reason : reason + "; " + pair.evidence.text;
}

class Matching {
  public:
    Matching(const LayerProfile& layer, base::AssetLayer role, const IdFields& ids,
             const Guides& guides)
        : m_layer(layer), m_targets(targets_of(role)), m_ids(ids), m_guides(guides),
          m_evidence(guides.catalogue, guides.vocabulary) {
        for (const FieldProfile& field : layer.fields) {
            m_names.push_back(read_name(field.name, guides.vocabulary));
        }
        for (std::size_t t = 0; t < m_targets.size(); ++t) {
            for (std::size_t f = 0; f < layer.fields.size(); ++f) {
                weigh(t, f);
            }
        }
        for (std::vector<Pair>* pairs : {&m_pairs, &m_unread}) {
            std::sort(pairs->begin(), pairs->end(), [](const Pair& a, const Pair& b) {
                return std::tuple(-a.score, a.target, a.field) <
                       std::tuple(-b.score, b.target, b.field);
            });
        }
    }

    [[nodiscard]] std::vector<FieldGuess> take() const {
        std::vector<const Pair*> of_target(m_targets.size(), nullptr);
        std::vector<const Pair*> of_field(m_names.size(), nullptr);
        for (const std::vector<Pair>* pairs : {&m_pairs, &m_unread}) {
            for (const Pair& pair : *pairs) {
                if (of_target[pair.target] != nullptr || of_field[pair.field] != nullptr) {
                    continue;
                }
                of_target[pair.target] = &pair;
                of_field[pair.field] = &pair;
            }
        }
        std::vector<FieldGuess> guesses;
        for (const Pair* pair : of_target) {
            if (pair != nullptr) {
                guesses.push_back(guess_of(*pair, of_field));
            }
        }
        return guesses;
    }

  private:
    void weigh(std::size_t t, std::size_t f) {
        const Target& target = m_targets[t];
        const FieldProfile& field = m_layer.fields[f];
        if (base::folded(field.name).starts_with("lw_")) {
            return; // what an earlier run wrote
        }
        Pair pair{t, f, 0.0, {}, base::same_word(field.name, target.field), false, false, {}};
        pair.name = match_name(m_names[f], m_guides.vocabulary.names_of(target.layer, target.field),
                               {target.layer, target.native == nullptr ? base::Dimension::none
                                                                       : target.native->dimension},
                               m_guides.vocabulary);
        if (pair.is_native) {
            pair.name.score = 1.0;
        }
        const bool measures_drawing =
            target.field == "length_m" && !pair.is_native &&
            speaks_of(m_names[f], m_guides.vocabulary.concept_named("drawn"));
        if (measures_drawing) {
            return;
        }
        pair.is_by_values = pair.name.score == 0.0 && may_tell_by_values(target, field);
        if (pair.name.score == 0.0 && !pair.is_by_values) {
            return;
        }
        pair.evidence = m_evidence.of(target, m_layer, field,
                                      pair.is_native ? target.native : pair.name.unit, m_ids);
        pair.score = score_of(pair, field);
        if (pair.score >= kLeastScore) {
            m_pairs.push_back(std::move(pair));
        } else if (is_unread(pair)) {
            pair.score = pair.name.score;
            pair.is_unread = true;
            m_unread.push_back(std::move(pair));
        }
    }

    [[nodiscard]] const FieldProfile& field_of(const Pair& pair) const {
        return m_layer.fields[pair.field];
    }

    /// Whether a field of the contract holds coded words or types of the catalogue.
    [[nodiscard]] bool has_words(const Pair& pair) const {
        const input::AllowedValue& allowed = m_targets[pair.target].allowed;
        return !allowed.words.empty() || allowed.holds != input::Holds::plain;
    }

    /// Whether the field is to be read whatever words it holds. Passed over, a word for "removed"
    /// would be in service and nobody would be told.
    [[nodiscard]] bool must_be_kept(const Pair& pair) const {
        if (pair.name.is_old || pair.is_by_values || field_of(pair).values.total() == 0) {
            return false;
        }
        if (pair.is_native) {
            return has_words(pair) || m_targets[pair.target].is_number;
        }
        const bool is_free_text = m_targets[pair.target].allowed.holds == input::Holds::plain &&
                                  field_of(pair).values.distinct() > kMostCodeWords;
        return has_words(pair) && !pair.name.is_vague && pair.name.score >= kLikelyName &&
               !is_free_text;
    }

    /// A field whose name speaks of the target although what it holds is not understood: worth a
    /// line, unsure, where nothing better is found.
    [[nodiscard]] bool is_unread(const Pair& pair) const {
        const bool is_spoken_of = !pair.name.is_old && !pair.is_by_values &&
                                  pair.name.score >= kSpokenName &&
                                  (has_words(pair) || m_targets[pair.target].is_number);
        return must_be_kept(pair) || (is_spoken_of && field_of(pair).values.total() > 0);
    }

    /// Words for cables, fuses and earthing are like nothing else.
    [[nodiscard]] static bool may_tell_by_values(const Target& target, const FieldProfile& field) {
        const bool tells = target.field == "cable_type" || target.field == "fuse_type" ||
                           target.field == "earthing";
        constexpr double kMostDifferent = 0.7; // of the values: ids such as "B6" are no breakers
        return tells && field.kind == gis::FieldKind::text && field.values.is_complete() &&
               field.values.distinct() < kMostDifferent * static_cast<double>(field.values.total());
    }

    [[nodiscard]] double score_of(const Pair& pair, const FieldProfile& field) const {
        const double name = pair.is_by_values ? kByValuesAlone : pair.name.score;
        if (field.values.total() == 0) {
            return name * kEmptyField;
        }
        if (pair.evidence.share < kLeastShare) {
            return 0.0;
        }
        const double fill = 1.0 - kFillWeight * (1.0 - m_layer.fill(field));
        return name * pair.evidence.share * fill;
    }

    [[nodiscard]] FieldGuess guess_of(const Pair& pair,
                                      const std::vector<const Pair*>& of_field) const {
        FieldGuess guess;
        guess.field = m_targets[pair.target].field;
        guess.name = m_layer.fields[pair.field].name;
        guess.confidence = confidence_of(pair, m_targets[pair.target]);
        guess.reason = reason_of(pair, m_targets[pair.target]);
        guess.is_kept = guess.confidence == Confidence::unsure && must_be_kept(pair);
        if (guess.is_kept) {
            guess.reason += "; kept as it is recorded";
        }
        guess.unit = pair.evidence.unit;
        for (const Pair& other : m_pairs) {
            if (other.target != pair.target || &other == &pair) {
                continue;
            }
            if (of_field[other.field] != nullptr) {
                continue;
            }
            if (!pair.is_native && other.score > pair.score - kRival) {
                guess.confidence = at_most(guess.confidence, Confidence::likely);
                guess.reason += "; another field fits nearly as well";
            }
            if (is_worth_a_word(other, pair)) {
                guess.rejected.push_back({m_layer.fields[other.field].name, why_not(other)});
            }
        }
        return guess;
    }

    [[nodiscard]] bool is_worth_a_word(const Pair& other, const Pair& taken) const {
        constexpr double kHalf = 0.5;
        constexpr double kNearlyAllDiffer = 0.95;
        return m_targets[other.target].is_id ? other.evidence.share >= kNearlyAllDiffer
                                             : other.score >= kHalf * taken.score;
    }

    [[nodiscard]] std::string why_not(const Pair& other) const {
        const double fill = m_layer.fill(m_layer.fields[other.field]);
        std::string reason = reason_of(other, m_targets[other.target]);
        if (fill < 1.0 && !m_targets[other.target].is_id) { // of ids it is said already
            reason += ", " + percent_text(fill) + " recorded";
        }
        return reason;
    }

    const LayerProfile& m_layer;
    std::vector<Target> m_targets;
    const IdFields& m_ids;
    const Guides& m_guides;
    EvidenceMaker m_evidence;
    std::vector<std::vector<NameWord>> m_names; ///< by field
    std::vector<Pair> m_pairs;                  ///< the best first
    std::vector<Pair> m_unread;                 ///< likewise; by the name alone
};

} // namespace

std::vector<FieldGuess> guess_fields(const LayerProfile& layer, base::AssetLayer role,
                                     const IdFields& ids, const Guides& guides) {
    std::vector<FieldGuess> guesses = Matching(layer, role, ids, guides).take();
    join_type_parts(guesses, layer, role, guides);
    return guesses;
}

const FieldProfile* find_field(const LayerProfile& layer, std::string_view name) {
    const auto found = std::find_if(layer.fields.begin(), layer.fields.end(),
                                    [&](const FieldProfile& f) { return f.name == name; });
    return found == layer.fields.end() ? nullptr : &*found;
}

const FieldGuess* find_guess(const std::vector<FieldGuess>& fields, std::string_view field) {
    const auto found = std::find_if(fields.begin(), fields.end(),
                                    [&](const FieldGuess& g) { return g.field == field; });
    return found == fields.end() ? nullptr : &*found;
}

} // namespace loopwalk::draft
