#include "role_evidence.hpp"

#include <algorithm>

namespace loopwalk::draft {

namespace {

using base::AssetLayer;

constexpr double kVague = 0.2; ///< score of a name that may mean something else as well

} // namespace

bool shape_fits(AssetLayer role, const LayerProfile& layer) {
    if (layer.features == 0) {
        return false;
    }
    switch (role) {
    case AssetLayer::columns:
    case AssetLayer::supplies:
    case AssetLayer::joints:
        return layer.shape() == Shape::point;
    case AssetLayer::cables:
    case AssetLayer::mains:
        return layer.shape() == Shape::line;
    case AssetLayer::ways:
    case AssetLayer::terminations:
    case AssetLayer::loads:
    case AssetLayer::readings:
        break;
    }
    return layer.shape() == Shape::none || layer.place_fields.has_value();
}

bool is_telling(AssetLayer role, std::string_view field) {
    constexpr std::array<std::string_view, 9> kColumns{"load_w",   "height_m", "fuse_type",
                                                       "fuse_a",   "control",  "tail_type",
                                                       "earthing", "feed",     "poles"};
    constexpr std::array<std::string_view, 9> kSupplies{"earthing", "ze_ohm",          "pscc_ka",
                                                        "pscc3_ka", "voltage_v",       "phases",
                                                        "fuse_a",   "transformer_kva", "kind"};
    const auto in = [&](const auto& list) {
        return std::find(list.begin(), list.end(), field) != list.end();
    };
    switch (role) {
    case AssetLayer::columns:
        return in(kColumns);
    case AssetLayer::cables:
        return field == "cable_type" || field == "length_m";
    case AssetLayer::supplies:
        return in(kSupplies);
    case AssetLayer::ways:
        return field == "supply_id" || field == "way" || field == "fuse_a";
    case AssetLayer::joints:
        return field == "kind";
    case AssetLayer::mains:
        return field == "cable_type" || field == "customers";
    case AssetLayer::terminations:
        return field == "asset_id" || field == "cable_id";
    case AssetLayer::loads:
        return field == "column_id" || field == "load_w";
    case AssetLayer::readings:
        return field == "zs_ohm" || field == "ra_ohm" || field == "pscc_ka";
    }
    return false;
}

bool is_table(AssetLayer role) {
    return role == AssetLayer::ways || role == AssetLayer::terminations ||
           role == AssetLayer::loads || role == AssetLayer::readings;
}

LayerName::LayerName(const LayerProfile& layer, const Vocabulary& vocabulary)
    : m_words(read_name(layer.name, vocabulary)),
      m_is_never(speaks_of(m_words, vocabulary.concept_named("never"))),
      m_is_foreign(speaks_of(m_words, vocabulary.concept_named("foreign"))),
      m_is_lighting(speaks_of(m_words, vocabulary.concept_named("lamp")) ||
                    speaks_of(m_words, vocabulary.concept_named("lighting"))) {
    for (const AssetLayer role : kAllRoles) {
        const NameMatch match =
            match_name(m_words, vocabulary.names_of(role), {role, {}}, vocabulary);
        m_scores.push_back(match.is_vague ? std::min(match.score, kVague) : match.score);
    }
}

NameSays LayerName::about(AssetLayer role) const {
    const double own = m_scores[static_cast<std::size_t>(role)];
    const double best = *std::max_element(m_scores.begin(), m_scores.end());
    if (m_is_never) {
        return NameSays::other_thing;
    }
    if (own == 0.0) {
        return m_is_foreign && !m_is_lighting ? NameSays::other_thing : NameSays::nothing;
    }
    if (m_is_foreign && !m_is_lighting) {
        return NameSays::nothing;
    }
    return own >= best && own > kVague ? NameSays::yes : NameSays::perhaps;
}

} // namespace loopwalk::draft
