// One layer in one role, weighed. For this folder only.
#pragma once

#include "role_evidence.hpp"
#include <optional>

namespace loopwalk::draft {

/// One layer in one role.
struct Candidate {
    base::AssetLayer role{};
    std::size_t profile = 0; ///< its place among the profiles
    NameSays name{};
    bool is_native = false;
    std::size_t telling = 0; ///< fields that few other layers have
    bool has_ids = false;    ///< the needed fields are there, and not unsure
    double score = 0.0;      ///< for the order of candidates; no unit
    std::vector<FieldGuess> fields;
};

/// What speaks for a layer in a role: its name, and the fields that go with the role's.
[[nodiscard]] Candidate weigh(base::AssetLayer role, std::size_t index, const LayerProfile& layer,
                              const LayerName& name, std::vector<FieldGuess> fields);

/// How far a candidate can be believed; nothing if it is no candidate at all.
[[nodiscard]] std::optional<Confidence> confidence_of(const Candidate& candidate);

/// For the reader of the job: "points, the name, and the fields a, b".
[[nodiscard]] std::string reason_of(const Candidate& candidate, const LayerProfile& layer);

} // namespace loopwalk::draft
