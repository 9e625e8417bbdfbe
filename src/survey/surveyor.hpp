// Tries every missing attribute with every value it may have. survey.cpp counts, and tries cables
// and sources; survey_devices.cpp tries fuses and tails; survey_breaking.cpp tries what leaves
// breaking capacity and heat open.
#pragma once

#include "loopwalk/figures/section_ohms.hpp"
#include "loopwalk/survey/survey.hpp"

#include <map>

namespace loopwalk::survey {

using base::ColumnId;
using checks::Explainer;
using checks::ReviewInput;
using figures::SectionOhms;
using impedance::FuseStandIns;
using protection::DeviceChoices;
using protection::Judge;
using protection::Suppose;
using protection::Verdict;

/// The verdicts of a column that a missing attribute can leave open.
struct Verdicts {
    Verdict in = Verdict::none;
    Verdict out = Verdict::none;
    Verdict breaking = Verdict::none;
    Verdict heat = Verdict::none;
};

/// What a device may be, once an attribute of its record is known.
struct FuseValues {
    const char* attribute;
    std::vector<DeviceChoices> devices;
};

/// Sections of one cable on the path to a column.
struct OnPath {
    base::CableId cable;
    std::vector<base::SectionId> sections;
};

/// The word of a fuse's type that the catalogue does not have; invalid otherwise.
[[nodiscard]] inline base::TextId unknown_word(const model::FuseRecord& fuse) noexcept {
    return fuse.word == model::FuseRecord::Word::not_found ? fuse.text : base::TextId{};
}

class Surveyor {
  public:
    Surveyor(const ReviewInput& input, Judge& judge)
        : m_in(input), m_judge(judge),
          m_explain(input.layers, input.catalogue, input.network, input.trace, input.figures),
          m_ohms(input.layers, input.catalogue, input.rules, input.assumptions, input.network) {}

    std::vector<SurveyRow> run(const std::vector<ColumnId>& undecided) {
        for (const ColumnId id : undecided) {
            if (m_judge.sides().can_suppose(id)) {
                look_at(id);
            }
            if (figures::has_figures(m_in.figures.columns[id.index()].state)) {
                try_breaking(id);
            }
        }
        try_devices();
        return rows();
    }

  private:
    struct Key {
        base::AssetLayer layer{};
        std::string asset; ///< empty: of a word
        std::string_view attribute;
        base::TextId word; ///< that the catalogue does not have; invalid: none, or not of a word
        friend auto operator<=>(const Key&, const Key&) = default;
    };

    void look_at(ColumnId id);
    [[nodiscard]] Verdicts verdicts_if(ColumnId id, const Suppose& what);
    void try_breaking(ColumnId id);
    void try_devices();
    void try_breaking_of(base::DeviceId id);
    void count(const Key& key, base::TextId word, bool is_settled);
    [[nodiscard]] std::vector<FuseValues> values_of(const model::FuseRecord& fuse,
                                                    const FuseStandIns& stand_ins) const;
    void try_cables(ColumnId id);
    void try_types(ColumnId id, const std::vector<OnPath>& path);
    void try_type(ColumnId id, const OnPath& on_path, const Key& key);
    void try_length(ColumnId id, const OnPath& on_path);
    void try_source(ColumnId id);
    void try_device(ColumnId id);
    void try_own_fuse(ColumnId id);
    void try_fuse(ColumnId id, const model::FuseRecord& fuse, const FuseStandIns& stand_ins,
                  const DeviceChoices* Suppose::*which, base::AssetLayer layer,
                  const std::string& name);
    void try_tail(ColumnId id);
    void try_values(ColumnId id, const std::vector<Suppose>& values, const Key& key,
                    base::TextId word = {});
    [[nodiscard]] bool may_decide(ColumnId id, const std::vector<Suppose>& values);
    template <class Value>
    void try_range(ColumnId id, const Value& value, const Key& key);
    template <class Value>
    [[nodiscard]] bool all_decide(ColumnId id, const Value& value, Verdict Verdicts::*side,
                                  Verdict at_low, Verdict at_high);
    [[nodiscard]] const std::vector<Suppose>& type_values(const OnPath& on_path);
    [[nodiscard]] std::vector<OnPath> path_of(ColumnId id) const;
    [[nodiscard]] std::vector<SurveyRow> rows() const;
    [[nodiscard]] std::uint32_t assets_with(const Key& word) const;
    [[nodiscard]] std::string name(ColumnId id) const {
        return m_in.layers.id_text(m_in.layers.columns[id.index()].id);
    }

    const ReviewInput& m_in;
    Judge& m_judge;
    Explainer m_explain;
    SectionOhms m_ohms;
    Verdicts m_now; ///< of the column at hand, as recorded
    std::map<Key, std::pair<std::uint32_t, std::uint32_t>> m_counts;
    std::map<std::vector<base::SectionId>, std::vector<Suppose>> m_type_values;
};

[[nodiscard]] constexpr bool is_decided(Verdict verdict) noexcept {
    return verdict == Verdict::meets || verdict == Verdict::fails;
}

/// Whether every value between two that decide differently decides: verdicts go one way with the
/// value, so the step from one to the other is halved until nothing undecided can lie in it.
template <class Value>
bool Surveyor::all_decide(ColumnId id, const Value& value, Verdict Verdicts::*side, Verdict at_low,
                          Verdict at_high) {
    constexpr int kHalvings = 40;
    double low = 0.0;
    double high = 1.0;
    for (int n = 0; at_low != at_high && n < kHalvings; ++n) {
        const double middle = (low + high) / 2.0;
        const Verdict then = verdicts_if(id, value(middle)).*side;
        if (!is_decided(then)) {
            return false;
        }
        (then == at_low ? low : high) = middle;
    }
    return true;
}

/// As try_values() for a number in a range; `value` makes the supposition for a share of it.
template <class Value>
void Surveyor::try_range(ColumnId id, const Value& value, const Key& key) {
    const Verdicts at_low = verdicts_if(id, value(0.0));
    const Verdicts at_high = verdicts_if(id, value(1.0));
    auto& [settled, touched] = m_counts[key];
    for (Verdict Verdicts::*side : {&Verdicts::in, &Verdicts::out}) {
        if (m_now.*side != Verdict::undecided) {
            continue;
        }
        const bool low_decides = is_decided(at_low.*side);
        const bool high_decides = is_decided(at_high.*side);
        touched += low_decides || high_decides ? 1U : 0U;
        settled +=
            low_decides && high_decides && all_decide(id, value, side, at_low.*side, at_high.*side)
                ? 1U
                : 0U;
    }
}

} // namespace loopwalk::survey
