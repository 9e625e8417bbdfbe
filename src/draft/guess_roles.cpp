// Which layer is the columns, the cables and so on: by name, geometry and fields; tables also by
// the ids that they refer to.
#include "loopwalk/base/text.hpp"

#include "circuit_labels.hpp"
#include "role_candidate.hpp"
#include <algorithm>
#include <tuple>

namespace loopwalk::draft {

namespace {

using base::AssetLayer;

class RoleGuesser {
  public:
    RoleGuesser(const std::vector<LayerProfile>& profiles, const Guides& guides)
        : m_profiles(profiles), m_guides(guides), m_is_used(profiles.size(), false) {
        for (const LayerProfile& profile : profiles) {
            m_names.emplace_back(profile, guides.vocabulary);
        }
    }

    /// Drawn layers first: tables refer to their ids.
    [[nodiscard]] std::vector<LayerGuess> guess() {
        take(candidates(false));
        fall_back(AssetLayer::columns);
        fall_back(AssetLayer::cables);
        take(candidates(true));
        std::stable_sort(m_guesses.begin(), m_guesses.end(),
                         [](const LayerGuess& a, const LayerGuess& b) { return a.role < b.role; });
        settle_labels(m_guesses, m_profiles);
        return std::move(m_guesses);
    }

    [[nodiscard]] std::vector<Rejected> unused() const {
        std::vector<Rejected> unused;
        for (std::size_t i = 0; i < m_profiles.size(); ++i) {
            if (!m_is_used[i]) {
                unused.push_back({m_profiles[i].name, why_unused(i)});
            }
        }
        return unused;
    }

  private:
    [[nodiscard]] std::vector<Candidate> candidates(bool tables) const {
        std::vector<Candidate> all;
        for (const AssetLayer role : kAllRoles) {
            if (is_table(role) != tables) {
                continue;
            }
            for (std::size_t i = 0; i < m_profiles.size(); ++i) {
                if (shape_fits(role, m_profiles[i])) {
                    all.push_back(
                        weigh(role, i, m_profiles[i], m_names[i],
                              guess_fields(m_profiles[i], role, ids_for(role), m_guides)));
                }
            }
        }
        std::sort(all.begin(), all.end(), [](const Candidate& a, const Candidate& b) {
            return std::tuple(-a.score, a.role, a.profile) <
                   std::tuple(-b.score, b.role, b.profile);
        });
        return all;
    }

    /// Ids that a table of this role may refer to.
    [[nodiscard]] IdFields ids_for(AssetLayer role) const {
        IdFields ids;
        for (const LayerGuess& guess : m_guesses) {
            const bool may_refer = role == AssetLayer::ways    ? guess.role == AssetLayer::supplies
                                   : role == AssetLayer::loads ? guess.role == AssetLayer::columns
                                                               : is_table(role);
            for (const Target& target : targets_of(guess.role)) {
                if (const FieldGuess* id = find_guess(guess.fields, target.field);
                    may_refer && target.is_id && id != nullptr) {
                    ids.push_back(&find_field(m_profiles[guess.profile], id->name)->values);
                }
            }
        }
        return ids;
    }

    void take(std::vector<Candidate> all) {
        for (Candidate& candidate : all) {
            const auto confidence = confidence_of(candidate);
            if (!confidence || m_is_used[candidate.profile]) {
                continue;
            }
            const LayerProfile& profile = m_profiles[candidate.profile];
            const auto same =
                std::find_if(m_guesses.begin(), m_guesses.end(),
                             [&](const LayerGuess& guess) { return guess.role == candidate.role; });
            if (same != m_guesses.end()) {
                if (is_further(*same, candidate, *confidence)) {
                    LayerGuess further =
                        guess_of(candidate, std::min(*confidence, Confidence::likely));
                    further.reason += "; it looks like layer \"" + m_profiles[same->profile].name +
                                      "\" and has other ids";
                    m_guesses.push_back(std::move(further));
                } else if (*confidence != Confidence::unsure) {
                    same->rejected.push_back({profile.name, reason_of(candidate, profile)});
                }
                continue;
            }
            m_guesses.push_back(guess_of(candidate, *confidence));
        }
    }

    /// Whether a layer plainly holds more of the records of a role that another layer has: alike
    /// in fields or in name, with ids of its own, and nothing says that they are out of service.
    [[nodiscard]] bool is_further(const LayerGuess& first, const Candidate& candidate,
                                  Confidence confidence) const {
        if (confidence == Confidence::unsure || first.confidence == Confidence::unsure ||
            !candidate.has_ids || speaks_of_status(candidate.profile) ||
            speaks_of_status(first.profile) || shares_ids(first, candidate)) {
            return false;
        }
        constexpr double kAlike = 0.6;
        const bool has_name = candidate.name == NameSays::yes && candidate.telling > 0 &&
                              m_names[first.profile].about(candidate.role) == NameSays::yes;
        return has_name ||
               share_of_fields(m_profiles[first.profile], m_profiles[candidate.profile]) >= kAlike;
    }

    /// "cables_removed", "columns_old": the name says what no field does.
    [[nodiscard]] bool speaks_of_status(std::size_t profile) const {
        const auto words = read_name(m_profiles[profile].name, m_guides.vocabulary);
        return std::any_of(words.begin(), words.end(), [this](const NameWord& word) {
            const auto meaning =
                m_guides.vocabulary.meaning_of(AssetLayer::cables, "status", word.text);
            return (meaning && meaning->word != "in service") ||
                   speaks_of({word}, m_guides.vocabulary.concept_named("old"));
        });
    }

    [[nodiscard]] bool shares_ids(const LayerGuess& first, const Candidate& candidate) const {
        constexpr double kFew = 0.02;
        for (const Target& target : targets_of(candidate.role)) {
            const FieldGuess* known = find_guess(first.fields, target.field);
            const FieldGuess* own = find_guess(candidate.fields, target.field);
            if (target.is_id && known != nullptr && own != nullptr) {
                const ValueCounts& ids = find_field(m_profiles[first.profile], known->name)->values;
                const ValueCounts& others =
                    find_field(m_profiles[candidate.profile], own->name)->values;
                return others.share_found_in(ids) > kFew;
            }
        }
        return false; // feature ids are told apart when read
    }

    /// Of the field names of both layers together, those that both have.
    [[nodiscard]] static double share_of_fields(const LayerProfile& a, const LayerProfile& b) {
        const auto both =
            std::count_if(a.fields.begin(), a.fields.end(), [&b](const FieldProfile& field) {
                return std::any_of(b.fields.begin(), b.fields.end(), [&](const FieldProfile& f) {
                    return base::same_word(f.name, field.name);
                });
            });
        const auto all =
            static_cast<double>(a.fields.size() + b.fields.size()) - static_cast<double>(both);
        return all > 0.0 ? static_cast<double>(both) / all : 0.0;
    }

    /// Layers that nothing speaks for, but their geometry: the only one of its kind, or those whose
    /// name does not speak of other things.
    [[nodiscard]] std::vector<std::size_t> last_resorts(AssetLayer role) const {
        std::vector<std::size_t> fitting;
        std::vector<std::size_t> of_nothing_else;
        std::size_t count = 0;
        for (std::size_t i = 0; i < m_profiles.size(); ++i) {
            if (!shape_fits(role, m_profiles[i])) {
                continue;
            }
            ++count;
            if (m_is_used[i] || m_names[i].is_never()) {
                continue;
            }
            fitting.push_back(i);
            if (m_names[i].about(role) != NameSays::other_thing) {
                of_nothing_else.push_back(i);
            }
        }
        return count == 1 ? fitting : of_nothing_else;
    }

    /// No layer is plainly this one: the likeliest is put to the reader, unsure. That the records
    /// have none is not for the program to say while there are some of its geometry.
    void fall_back(AssetLayer role) {
        const bool is_found = std::any_of(m_guesses.begin(), m_guesses.end(),
                                          [&](const LayerGuess& g) { return g.role == role; });
        if (is_found) {
            return;
        }
        std::vector<Candidate> all;
        for (const std::size_t i : last_resorts(role)) {
            all.push_back(weigh(role, i, m_profiles[i], m_names[i],
                                guess_fields(m_profiles[i], role, {}, m_guides)));
        }
        if (all.empty()) {
            return;
        }
        std::sort(all.begin(), all.end(), [](const Candidate& a, const Candidate& b) {
            return std::tuple(-a.score, a.profile) < std::tuple(-b.score, b.profile);
        });
        LayerGuess guess = guess_of(all.front(), Confidence::unsure);
        for (std::size_t i = 1; i < all.size(); ++i) {
            const LayerProfile& profile = m_profiles[all[i].profile];
            guess.rejected.push_back({profile.name, reason_of(all[i], profile)});
        }
        m_guesses.push_back(std::move(guess));
    }

    [[nodiscard]] LayerGuess guess_of(Candidate& candidate, Confidence confidence) {
        m_is_used[candidate.profile] = true;
        LayerGuess guess;
        guess.role = candidate.role;
        guess.profile = candidate.profile;
        guess.confidence = confidence;
        guess.reason = reason_of(candidate, m_profiles[candidate.profile]);
        guess.fields = std::move(candidate.fields);
        return guess;
    }

    [[nodiscard]] std::string why_unused(std::size_t i) const {
        const LayerProfile& profile = m_profiles[i];
        if (profile.features == 0) {
            return "it is empty";
        }
        if (m_names[i].about(AssetLayer::columns) == NameSays::other_thing) {
            return std::string(shape_name(profile.shape())) + "; the name speaks of other things";
        }
        return std::string(shape_name(profile.shape())) +
               "; neither its name nor its fields tell what it is";
    }

    const std::vector<LayerProfile>& m_profiles;
    const Guides& m_guides;
    std::vector<LayerName> m_names;
    std::vector<bool> m_is_used;
    std::vector<LayerGuess> m_guesses;
};

} // namespace

std::vector<LayerGuess> guess_roles(const std::vector<LayerProfile>& profiles, const Guides& guides,
                                    std::vector<Rejected>& unused) {
    RoleGuesser guesser(profiles, guides);
    std::vector<LayerGuess> guesses = guesser.guess();
    unused = guesser.unused();
    return guesses;
}

} // namespace loopwalk::draft
