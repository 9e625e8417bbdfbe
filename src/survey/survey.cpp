// Missing attributes, ranked by the verdicts that knowing them would decide
// (method.md section 2). Each is tried with every value it may have, all others still ranging.
#include "surveyor.hpp"
#include <algorithm>
#include <array>
#include <tuple>

namespace loopwalk::survey {

using figures::ColumnFigures;
using impedance::Complex;
using impedance::Source;

namespace {

using base::AssetLayer;
using base::Bounds;
using base::CableId;
using base::Metre;
using base::Ohm;
using base::SectionId;

constexpr std::array kParts = {&Verdicts::in, &Verdicts::out, &Verdicts::breaking, &Verdicts::heat};

Complex between(Complex low, Complex high, double share) {
    return low + (high - low) * share;
}

} // namespace

/// Breaking capacity depends on the column's own fuse, heat on the device of its incoming side; of
/// whatever else is supposed they are left as they are.
Verdicts Surveyor::verdicts_if(ColumnId id, const Suppose& what) {
    const protection::SideVerdicts sides = m_judge.sides().verdicts_if(id, what);
    Verdicts then{sides.in, sides.out, m_now.breaking, m_now.heat};
    if (what.own != nullptr && m_now.breaking == Verdict::undecided) {
        then.breaking = m_judge.breaking().of_column(id, what.own).verdict;
    }
    if (what.device != nullptr && m_now.heat == Verdict::undecided) {
        const auto heat = m_judge.heat().of_column(id, what.device);
        then.heat = heat.has_value() ? heat->verdict : Verdict::none;
    }
    return then;
}

/// Counts, for each verdict that is undecided now, whether all or some of the values decide it.
/// With a `word` they count for all records that have it, too.
void Surveyor::try_values(ColumnId id, const std::vector<Suppose>& values, const Key& key,
                          base::TextId word) {
    std::vector<Verdicts> then;
    then.reserve(values.size());
    for (const Suppose& value : values) {
        then.push_back(verdicts_if(id, value));
    }
    for (Verdict Verdicts::*part : kParts) {
        if (m_now.*part != Verdict::undecided || then.empty()) {
            continue;
        }
        const auto decides = [&](const Verdicts& v) { return is_decided(v.*part); };
        if (std::ranges::any_of(then, decides)) {
            count(key, word, std::ranges::all_of(then, decides));
        }
    }
}

void Surveyor::look_at(ColumnId id) {
    const protection::SideVerdicts sides = m_judge.sides().verdicts_if(id, {});
    const auto heat = m_judge.heat().of_column(id);
    m_now = {sides.in, sides.out, m_judge.breaking().of_column(id).verdict,
             heat.has_value() ? heat->verdict : Verdict::none};
    try_cables(id);
    try_source(id);
    try_device(id);
    try_own_fuse(id);
    try_tail(id);
}

/// Cables from the column towards its source, those in loops left out: there one cable's share of
/// the whole is no sum.
std::vector<OnPath> Surveyor::path_of(ColumnId id) const {
    std::vector<OnPath> path;
    base::VertexId v = m_in.figures.columns[id.index()].vertex;
    for (; m_in.trace.parent[v.index()].is_valid(); v = m_in.trace.parent[v.index()]) {
        const base::EdgeId edge = m_in.trace.parent_edge[v.index()];
        if (!m_in.network.is_section(edge) || m_in.trace.looped[edge.index()] != 0) {
            continue;
        }
        const SectionId section(edge.index());
        const CableId cable = m_in.network.snapped.sections[section.index()].cable;
        const auto known = std::ranges::find(path, cable, &OnPath::cable);
        if (known == path.end()) {
            path.push_back({cable, {section}});
        } else {
            known->sections.push_back(section);
        }
    }
    return path;
}

void Surveyor::try_cables(ColumnId id) {
    const std::vector<OnPath> path = path_of(id);
    try_types(id, path);
    for (const OnPath& on_path : path) {
        const model::Cable& cable = m_in.layers.cables[on_path.cable.index()];
        if (!cable.laid.has_value()) {
            try_length(id, on_path);
        }
    }
}

/// Verdicts go one way with the loop: if neither the type with the lowest high bound meets, nor the
/// one with the highest low bound fails, no type decides anything. Most are ruled out so.
bool Surveyor::may_decide(ColumnId id, const std::vector<Suppose>& values) {
    if (values.empty()) {
        return false;
    }
    const ColumnFigures& figures = m_in.figures.columns[id.index()];
    const auto high = [&](const Suppose& v) { return std::norm(figures.loop_high + v.high); };
    const auto low = [&](const Suppose& v) { return std::norm(figures.loop_low + v.low); };
    const Suppose& best = *std::ranges::min_element(values, {}, high);
    const Suppose& worst = *std::ranges::max_element(values, {}, low);
    return std::ranges::any_of(std::array{&best, &worst}, [&](const Suppose* value) {
        const protection::SideVerdicts then = m_judge.sides().verdicts_if(id, *value);
        return (m_now.in == Verdict::undecided && is_decided(then.in)) ||
               (m_now.out == Verdict::undecided && is_decided(then.out));
    });
}

/// What each type would add to the loop; the same for all columns behind the same sections.
const std::vector<Suppose>& Surveyor::type_values(const OnPath& on_path) {
    constexpr std::size_t kMost =
        256; // some ways' cables; all of a council's would fill the memory
    if (m_type_values.size() >= kMost) {
        m_type_values.clear();
    }
    const auto [at, is_new] = m_type_values.try_emplace(on_path.sections);
    std::vector<Suppose>& values = at->second;
    if (!is_new) {
        return values;
    }
    SectionOhms::HotLoop now;
    for (const SectionId section : on_path.sections) {
        now += m_ohms.hot_loop(section, m_ohms.length(section));
    }
    values.reserve(m_in.assumptions.missing_cable_types.size());
    for (const base::CableTypeId type : m_in.assumptions.missing_cable_types) {
        SectionOhms::HotLoop then;
        for (const SectionId section : on_path.sections) {
            then += m_ohms.hot_loop_if(section, type);
        }
        Suppose value;
        value.low = then.low - now.low;
        value.high = then.high - now.high;
        values.push_back(value);
    }
    return values;
}

/// Each cable of unknown type on its own, and all of one word together.
void Surveyor::try_types(ColumnId id, const std::vector<OnPath>& path) {
    std::map<base::TextId, OnPath> words;
    for (const OnPath& on_path : path) {
        const model::Cable& cable = m_in.layers.cables[on_path.cable.index()];
        if (cable.type.type.is_valid()) {
            continue;
        }
        try_type(id, on_path,
                 {AssetLayer::cables, m_in.layers.id_text(cable.id), "cable_type", {}});
        if (cable.type.text.is_valid()) {
            OnPath& all =
                words.try_emplace(cable.type.text, OnPath{on_path.cable, {}}).first->second;
            all.sections.insert(all.sections.end(), on_path.sections.begin(),
                                on_path.sections.end());
        }
    }
    for (const auto& [word, all] : words) {
        try_type(id, all, {AssetLayer::cables, {}, "cable_type", word});
    }
}

void Surveyor::try_type(ColumnId id, const OnPath& on_path, const Key& key) {
    const std::vector<Suppose>& values = type_values(on_path);
    if (may_decide(id, values)) {
        try_values(id, values, key);
    }
}

void Surveyor::try_length(ColumnId id, const OnPath& on_path) {
    SectionOhms::HotLoop now;
    SectionOhms::HotLoop shortest;
    SectionOhms::HotLoop longest;
    for (const SectionId section : on_path.sections) {
        const Bounds<Metre> length = m_ohms.length(section);
        now += m_ohms.hot_loop(section, length);
        shortest += m_ohms.hot_loop(section, {length.low, length.low});
        longest += m_ohms.hot_loop(section, {length.high, length.high});
    }
    const base::TextId cable = m_in.layers.cables[on_path.cable.index()].id;
    try_range(id,
              [&](double share) {
                  Suppose value;
                  value.low = between(shortest.low, longest.low, share) - now.low;
                  value.high = between(shortest.high, longest.high, share) - now.high;
                  return value;
              },
              {AssetLayer::cables, m_in.layers.id_text(cable), "length_m", {}});
}

/// A missing or assumed Ze, once measured, may be anything in its range.
void Surveyor::try_source(ColumnId id) {
    const base::InfeedId infeed = m_in.figures.columns[id.index()].infeed;
    const auto supply = m_in.network.supply_of(infeed);
    const Source& now = *m_in.figures.source_of(m_in.network, infeed);
    const bool is_open = now.ze_missing || now.ze_basis == model::Basis::assumed;
    if (!supply.has_value() || !now.has_ze || !is_open) {
        return;
    }
    Source measured = now;
    measured.ze_missing = false;
    measured.ze_basis = model::Basis::measured;
    const base::TextId name = m_in.layers.supplies[supply->index()].id;
    try_range(id,
              [&](double share) {
                  const Ohm ze = now.ze.low + (now.ze.high - now.ze.low) * share;
                  measured.ze = {ze, ze};
                  Suppose value;
                  value.source = &measured;
                  return value;
              },
              {AssetLayer::supplies, m_in.layers.id_text(name), "ze_ohm", {}});
}

std::uint32_t Surveyor::assets_with(const Key& word) const {
    const auto of = [&word](const auto& rows, const auto& text) {
        return static_cast<std::uint32_t>(
            std::ranges::count_if(rows, [&](const auto& row) { return text(row) == word.word; }));
    };
    const auto fuse = [](const auto& row) { return unknown_word(row.fuse); };
    const model::Layers& layers = m_in.layers;
    switch (word.layer) {
    case AssetLayer::cables:
        return of(layers.cables, [](const model::Cable& row) { return row.type.text; });
    case AssetLayer::columns:
        return word.attribute == "tail_type"
                   ? of(layers.columns, [](const model::Column& row) { return row.tail_type.text; })
                   : of(layers.columns, fuse);
    case AssetLayer::supplies:
        return of(layers.supplies, fuse);
    case AssetLayer::ways:
        return of(layers.ways, fuse);
    case AssetLayer::joints:
        return of(layers.joints, fuse);
    case AssetLayer::mains:
    case AssetLayer::terminations:
    case AssetLayer::loads:
    case AssetLayer::readings:
        break;
    }
    return 0;
}

std::vector<SurveyRow> Surveyor::rows() const {
    std::vector<SurveyRow> out;
    for (const auto& [key, counts] : m_counts) {
        if (counts.second == 0) {
            continue;
        }
        SurveyRow row{key.layer,    key.asset,    std::string(key.attribute), {}, 1,
                      counts.first, counts.second};
        if (key.word.is_valid()) {
            row.word = m_in.layers.id_text(key.word);
            row.assets = assets_with(key);
        }
        if (!key.word.is_valid() || row.assets > 1) {
            out.push_back(std::move(row));
        }
    }
    std::ranges::sort(out, [](const SurveyRow& a, const SurveyRow& b) {
        return std::tie(b.settled, b.touched, a.layer, a.asset_id, a.attribute, a.word) <
               std::tie(a.settled, a.touched, b.layer, b.asset_id, b.attribute, b.word);
    });
    return out;
}

std::vector<SurveyRow> rank(const ReviewInput& input, Judge& judge,
                            const std::vector<ColumnId>& undecided) {
    return Surveyor(input, judge).run(undecided);
}

} // namespace loopwalk::survey
