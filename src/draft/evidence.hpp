// What the values of a field say about being those of a field of the contract.
#pragma once

#include "loopwalk/base/unit.hpp"
#include "loopwalk/catalogue/catalogue.hpp"
#include "loopwalk/draft/profile.hpp"
#include "loopwalk/input/allowed_values.hpp"

#include "vocabulary.hpp"

namespace loopwalk::draft {

/// A field of the contract and what it may hold.
struct Target {
    base::AssetLayer layer{};
    std::string field;
    bool is_id = false;        ///< identifies the feature
    bool is_reference = false; ///< names a feature of another layer
    bool is_number = false;
    input::AllowedValue allowed;
    const base::Unit* native = nullptr; ///< unit of the field's name
};
/// The fields of a layer, in the order of the contract.
[[nodiscard]] std::vector<Target> targets_of(base::AssetLayer layer);

struct Evidence {
    double share = 0.0;    ///< of the recorded values that go with the field; 0 if none is recorded
    bool is_weak = false;  ///< any text would do
    bool is_native = true; ///< coded words are the contract\'s own
    std::string text;      ///< for the reason: "98 % are numbers, most 6 to 12"
    const base::Unit* unit = nullptr; ///< that the values are in, by the look of them; null: native
    bool unit_is_proved = false;      ///< by the drawn lengths
    bool unit_is_doubtful = false;    ///< the values suit no unit, or another than the name says
};

/// Ids that references of a layer may lead to.
using IdFields = std::vector<const ValueCounts*>;

class EvidenceMaker {
  public:
    EvidenceMaker(const catalogue::Catalogue& catalogue, const Vocabulary& vocabulary)
        : m_catalogue(catalogue), m_vocabulary(vocabulary) {}

    /// `named_unit`: the unit that the field's name ends in, null for none. `ids`: what a reference
    /// may lead to.
    [[nodiscard]] Evidence of(const Target& target, const LayerProfile& layer,
                              const FieldProfile& field, const base::Unit* named_unit,
                              const IdFields& ids) const;

  private:
    [[nodiscard]] static Evidence of_id(const LayerProfile& layer, const FieldProfile& field);
    [[nodiscard]] static Evidence of_reference(const FieldProfile& field, const IdFields& ids);
    [[nodiscard]] Evidence of_words(const Target& target, const FieldProfile& field) const;
    [[nodiscard]] Evidence of_types(const Target& target, const FieldProfile& field) const;
    [[nodiscard]] static Evidence of_label(const Target& target, const FieldProfile& field);

    const catalogue::Catalogue& m_catalogue;
    const Vocabulary& m_vocabulary;
};

/// Numbers and their units; see number_evidence.cpp.
[[nodiscard]] Evidence number_evidence(const Target& target, const FieldProfile& field,
                                       const base::Unit* named_unit);

/// "98 %".
[[nodiscard]] std::string percent_text(double share);

} // namespace loopwalk::draft
