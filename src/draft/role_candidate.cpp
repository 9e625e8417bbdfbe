#include "role_candidate.hpp"

#include "loopwalk/base/text.hpp"

namespace loopwalk::draft {

namespace {

double points_of(NameSays name) {
    switch (name) {
    case NameSays::other_thing:
        return -5.0;
    case NameSays::nothing:
        break;
    case NameSays::perhaps:
        return 1.0;
    case NameSays::yes:
        return 3.0;
    }
    return 0.0;
}

double points_of(Confidence confidence) {
    switch (confidence) {
    case Confidence::unsure:
        return 0.1;
    case Confidence::likely:
        return 0.6;
    case Confidence::sure:
        break;
    }
    return 1.0;
}

} // namespace

Candidate weigh(base::AssetLayer role, std::size_t index, const LayerProfile& layer,
                const LayerName& name, std::vector<FieldGuess> fields) {
    Candidate candidate{role, index, name.about(role), false, 0, true, 0.0, std::move(fields)};
    candidate.is_native = base::same_word(layer.name, base::layer_name(role));
    candidate.score = points_of(candidate.name) + (candidate.is_native ? 5.0 : 0.0);
    for (const FieldGuess& field : candidate.fields) {
        const bool tells = is_telling(role, field.field);
        candidate.telling += tells && field.confidence != Confidence::unsure ? 1 : 0;
        candidate.score += (tells ? 1.0 : 0.2) * points_of(field.confidence);
    }
    for (const Target& target : targets_of(role)) {
        const FieldGuess* id = find_guess(candidate.fields, target.field);
        if (target.is_id || target.is_reference) {
            candidate.has_ids =
                candidate.has_ids && id != nullptr && id->confidence != Confidence::unsure;
        }
    }
    return candidate;
}

std::optional<Confidence> confidence_of(const Candidate& candidate) {
    const bool says_yes = candidate.is_native || candidate.name == NameSays::yes;
    if (candidate.name == NameSays::other_thing) {
        return std::nullopt;
    }
    if (says_yes && candidate.has_ids) {
        return candidate.is_native || candidate.telling > 0 ||
                       candidate.role == base::AssetLayer::columns
                   ? Confidence::sure
                   : Confidence::likely;
    }
    if (candidate.name == NameSays::perhaps && candidate.has_ids && candidate.telling > 0) {
        return Confidence::likely;
    }
    if (candidate.telling > 1 && candidate.has_ids) {
        return Confidence::likely;
    }
    if (says_yes || (candidate.telling > 0 && candidate.has_ids)) {
        return Confidence::unsure;
    }
    return std::nullopt;
}

std::string reason_of(const Candidate& candidate, const LayerProfile& layer) {
    std::vector<std::string> telling;
    for (const FieldGuess& field : candidate.fields) {
        if (is_telling(candidate.role, field.field) && field.confidence != Confidence::unsure) {
            telling.push_back(field.name);
        }
    }
    constexpr std::size_t kMostListed = 5;
    std::string reason = std::string(shape_name(layer.shape()));
    if (candidate.is_native) {
        reason += ", the native name";
    } else if (candidate.name == NameSays::yes) {
        reason += ", the name";
    } else if (candidate.name == NameSays::perhaps) {
        reason += ", a name that may mean it";
    } else {
        reason += ", the name does not tell";
    }
    if (!telling.empty()) {
        reason += ", and the fields " + base::listed(telling, kMostListed);
    }
    if (!candidate.has_ids) {
        reason += "; no field that plainly identifies the features";
    }
    return reason;
}

} // namespace loopwalk::draft
