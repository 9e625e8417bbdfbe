// cables, supplies and the layers that only travel through.
#include "loopwalk/base/error.hpp"

#include "fields.hpp"
#include "writer.hpp"
#include <algorithm>
#include <array>

namespace loopwalk::output {
namespace {

using base::AssetLayer;
using protection::Judge;
using protection::Verdict;

/// A cable with what its sections have in common, or the worst of them.
struct CableView {
    const Writer& w;
    const model::Cable& cable;
    std::string_view role;
    std::string supply, way, device, why;
    base::Maybe<base::Metre> length;
    std::uint32_t sections = 0;
    base::Maybe<base::Second> clear;
    std::string_view cover;
    base::Maybe<base::Ampere> current;
    Verdict verdict = Verdict::none;
    const checks::AssetStanding& standing;
};

Verdict cover_verdict(protection::Cover cover) {
    switch (cover) {
    case protection::Cover::clears:
        return Verdict::meets;
    case protection::Cover::does_not_clear:
        return Verdict::fails;
    case protection::Cover::undecided:
        return Verdict::undecided;
    case protection::Cover::no_device:
        return Verdict::not_ours;
    }
    return Verdict::none;
}

std::string cable_why(Verdict verdict) {
    switch (verdict) {
    case Verdict::fails:
        return "a fault at the far end is predicted not to be cleared in time by the device before "
               "it";
    case Verdict::undecided:
        return "cannot be judged: the records leave open whether the device before it clears a "
               "fault at its far end in time";
    case Verdict::not_ours:
        return "not ours: only the distributor's fuse stands before it, ask the distributor";
    case Verdict::not_traced:
        return "not traced: no source was found in the records, treat as live";
    case Verdict::meets:
    case Verdict::none:
        break;
    }
    return {};
}

base::Metre used_length(const model::Layers& layers, const model::Cable& cable) {
    if (cable.laid.has_value()) {
        return *cable.laid;
    }
    base::Metre drawn;
    for (const model::Part& part : layers.parts_of(cable)) {
        drawn += part.drawn;
    }
    return drawn;
}

/// What a cable is in the network: named by its type, else by what feeds it.
std::string_view role_of(const Writer& w, const model::Cable& cable,
                         const trace::Component& component, base::SectionId first) {
    using catalogue::CableUse;
    if (cable.type.type.is_valid()) {
        const CableUse use = w.results.catalogue.cable(cable.type.type).use;
        if (use == CableUse::main) {
            return "main";
        }
        if (use == CableUse::service) {
            return "service";
        }
    }
    const base::InfeedId infeed = w.results.trace.infeeds_of(component)[0];
    const bool from_distributor = w.net.main_of(infeed).has_value() ||
                                  w.judge.devices().is_distributors(w.net.device_of(infeed));
    const auto starts_at_infeed = [&](base::VertexId v) { return v == w.net.vertex_of(infeed); };
    const bool touches_infeed = starts_at_infeed(w.net.section_from[first.index()]) ||
                                starts_at_infeed(w.net.section_to[first.index()]);
    return from_distributor && touches_infeed ? "service" : "circuit";
}

/// A cable is no better than the columns that it feeds; the distributor's is not ours all the same.
void take_worse_column(CableView& v, base::SectionId id) {
    if (v.verdict == Verdict::not_ours) {
        return;
    }
    const network::Section& section = v.w.net.snapped.sections[id.index()];
    const auto& figures = v.w.results.figures.sections[id.index()];
    const bool is_looped = v.w.results.trace.looped[id.index()] != 0;
    for (const base::NodeId end : {section.from, section.to}) {
        const network::Node& node = v.w.net.snapped.nodes[end.index()];
        const bool is_downstream =
            is_looped || end == (figures.is_reversed ? section.from : section.to);
        if (node.kind != network::NodeKind::column || !is_downstream) {
            continue;
        }
        const Verdict of_column = v.w.results.review.verdicts[node.asset];
        if (protection::worse(v.verdict, of_column) != v.verdict) {
            v.verdict = of_column;
            v.why = "column " + v.w.layers.id_text(v.w.layers.columns[node.asset].id) +
                    " at its end " +
                    (of_column == Verdict::fails ? "is predicted not to meet its limits"
                                                 : "cannot be judged from the records");
        }
    }
}

CableView view_of(const Writer& w, base::CableId id) {
    const model::Cable& cable = w.layers.cables[id.index()];
    CableView v{w,
                cable,
                "none",
                {},
                {},
                {},
                {},
                {},
                0,
                {},
                {},
                {},
                Verdict::none,
                w.results.standing.cables[id.index()]};
    const std::uint32_t first = w.net.snapped.first_section[id.index()];
    const std::uint32_t last = w.net.snapped.first_section[id.index() + 1];
    v.sections = last - first;
    if (cable.part_count > 0) {
        v.length = used_length(w.layers, cable);
    }
    if (v.sections == 0 || !model::conducts(cable.status)) {
        return v;
    }
    const trace::Component* component = w.results.trace.find(w.net.section_from[first]);
    LW_ASSERT(component != nullptr);
    if (component->infeed_count == 0) {
        v.verdict = Verdict::not_traced;
        v.why = cable_why(v.verdict);
        return v;
    }
    v.role = role_of(w, cable, *component, base::SectionId(first));
    v.supply = w.supply_of(*component);
    v.way = w.way_of(*component);
    bool all_clear = true;
    for (std::uint32_t s = first; s < last; ++s) {
        const auto& figures = w.results.figures.sections[s];
        const protection::SectionCover cover = w.judge.covers().of(base::SectionId(s));
        const Verdict verdict = cover_verdict(cover.cover);
        if (verdict < v.verdict) {
            v.verdict = verdict;
            v.cover = cover_name(cover.cover);
            v.device = w.explain.device_names(devices_of(w.results.figures, base::SectionId(s)));
        }
        all_clear = all_clear && cover.clear.has_value();
        if (cover.clear.has_value() && (!v.clear.has_value() || *cover.clear > *v.clear)) {
            v.clear = cover.clear;
        }
        if (figures.current.has_value() &&
            (!v.current.has_value() || *figures.current > *v.current)) {
            v.current = figures.current;
        }
    }
    if (!all_clear) {
        v.clear = {};
    }
    v.why = cable_why(v.verdict);
    for (std::uint32_t s = first; s < last; ++s) {
        take_worse_column(v, base::SectionId(s));
    }
    return v;
}

// clang-format off: one field a line
constexpr std::array kCableFields = {
    Field<CableView>{"lw_id", kText,
                     [](Cell c, const CableView& v) { c.set(v.w.layers.text.view(v.cable.id)); }},
    Field<CableView>{"lw_role", kText, [](Cell c, const CableView& v) { c.set(v.role); }},
    Field<CableView>{"lw_supply_id", kText, [](Cell c, const CableView& v) { c.set(v.supply); }},
    Field<CableView>{"lw_way", kText, [](Cell c, const CableView& v) { c.set(v.way); }},
    Field<CableView>{"lw_length_m", kReal, [](Cell c, const CableView& v) { c.set(v.length); }},
    Field<CableView>{"lw_sections", kInteger,
                     [](Cell c, const CableView& v) { c.set(std::int64_t{v.sections}); }},
    Field<CableView>{"lw_device", kText, [](Cell c, const CableView& v) { c.set(v.device); }},
    Field<CableView>{"lw_clear_s", kReal, [](Cell c, const CableView& v) { c.set(v.clear); }},
    Field<CableView>{"lw_cover", kText, [](Cell c, const CableView& v) { c.set(v.cover); }},
    Field<CableView>{"lw_current_a", kReal, [](Cell c, const CableView& v) { c.set(v.current); }},
    Field<CableView>{
        "lw_verdict", kText,
        [](Cell c, const CableView& v) { c.set(protection::verdict_name(v.verdict)); }},
    Field<CableView>{"lw_why", kText,
                     [](Cell c, const CableView& v) {
                         c.set(std::string_view(with_worst(v.standing, v.verdict, v.why)));
                     }},
    worst_field<CableView>(),
    worst_rule_field<CableView>(),
    findings_field<CableView>(),
};
// clang-format on

struct SupplyView {
    const Writer& w;
    base::SupplyId id;
    const checks::SupplySummary& sum;
    const checks::AssetStanding& standing;
};

/// Columns of a supply with a verdict.
template <Verdict V>
constexpr Field<SupplyView> count_field(std::string_view name) {
    return {name, kInteger, [](Cell c, const SupplyView& v) {
                c.set(std::int64_t{v.sum.by_verdict[static_cast<std::size_t>(V)]});
            }};
}

std::string supply_why(const checks::SupplySummary& sum) {
    switch (sum.verdict) {
    case Verdict::fails:
        return "at least one of its ways or their fuses is predicted not to meet its limit";
    case Verdict::undecided:
        return "at least one of its ways or their fuses cannot be judged from the records";
    case Verdict::not_ours:
        return "the distributor's: ask the distributor";
    case Verdict::meets:
    case Verdict::not_traced:
    case Verdict::none:
        break;
    }
    return {};
}

// clang-format off: one field a line
constexpr std::array kSupplyFields = {
    Field<SupplyView>{"lw_id", kText,
                      [](Cell c, const SupplyView& v) {
                          c.set(v.w.layers.text.view(v.w.layers.supplies[v.id.index()].id));
                      }},
    Field<SupplyView>{"lw_columns", kInteger,
                      [](Cell c, const SupplyView& v) { c.set(std::int64_t{v.sum.columns}); }},
    Field<SupplyView>{"lw_load_w", kReal,
                      [](Cell c, const SupplyView& v) {
                          if (v.sum.load.is_exact()) {
                              c.set(v.sum.load.low);
                          }
                      }},
    Field<SupplyView>{
        "lw_verdict", kText,
        [](Cell c, const SupplyView& v) { c.set(protection::verdict_name(v.sum.verdict)); }},
    Field<SupplyView>{"lw_why", kText,
                      [](Cell c, const SupplyView& v) {
                          c.set(std::string_view(
                              with_worst(v.standing, v.sum.verdict, supply_why(v.sum))));
                      }},
    count_field<Verdict::meets>("n_meets"),
    count_field<Verdict::undecided>("n_undecided"),
    count_field<Verdict::fails>("n_fails"),
    count_field<Verdict::not_traced>("n_not_traced"),
    worst_field<SupplyView>(),
    worst_rule_field<SupplyView>(),
    findings_field<SupplyView>(),
};
// clang-format on

/// Id of a row of a layer that only travels through.
std::string other_id(const model::Layers& layers, AssetLayer layer, std::size_t i) {
    switch (layer) {
    case AssetLayer::ways:
        return layers.id_text(layers.ways[i].supply_id) + "/" + layers.id_text(layers.ways[i].way);
    case AssetLayer::joints:
        return layers.id_text(layers.joints[i].id);
    case AssetLayer::mains:
        return layers.id_text(layers.mains[i].id);
    case AssetLayer::terminations:
        return layers.id_text(layers.terminations[i].asset_id) + "/" +
               layers.id_text(layers.terminations[i].cable_id);
    case AssetLayer::loads:
        return layers.id_text(layers.loads[i].column_id);
    case AssetLayer::readings:
        return layers.id_text(layers.readings[i].asset_id);
    case AssetLayer::columns:
    case AssetLayer::cables:
    case AssetLayer::supplies:
        break;
    }
    throw base::InternalError("layer has a writer of its own");
}

} // namespace

void Writer::copy_cables() {
    if (m_source.layer(AssetLayer::cables) == nullptr) {
        return;
    }
    const std::span<const Field<CableView>> fields(kCableFields);
    AssetCopy copy(m_source, m_out, results.read, AssetLayer::cables, declared(fields));
    m_progress.stage("write cables", copy.count());
    for (std::size_t n = 0; copy.next(); ++n) {
        fill(copy.row(), fields, view_of(*this, base::CableId(copy.position())));
        copy.write();
        m_progress.step(n);
    }
}

void Writer::copy_supplies() {
    if (m_source.layer(AssetLayer::supplies) == nullptr) {
        return;
    }
    const std::span<const Field<SupplyView>> fields(kSupplyFields);
    AssetCopy copy(m_source, m_out, results.read, AssetLayer::supplies, declared(fields));
    while (copy.next()) {
        const base::SupplyId id(copy.position());
        fill(copy.row(), fields,
             SupplyView{*this, id, results.review.supplies[id.index()],
                        results.standing.supplies[id.index()]});
        copy.write();
    }
}

/// A row of `ways` with the standing of the way that cables make of it; without cables it has none.
struct WayRowView {
    std::string id;
    const checks::AssetStanding& standing;
};

// clang-format off: one field a line
constexpr std::array kWayRowFields = {
    Field<WayRowView>{"lw_id", kText,
                      [](Cell c, const WayRowView& v) { c.set(std::string_view(v.id)); }},
    worst_field<WayRowView>(),
    worst_rule_field<WayRowView>(),
    findings_field<WayRowView>(),
};
// clang-format on

void Writer::copy_ways() {
    if (m_source.layer(AssetLayer::ways) == nullptr) {
        return;
    }
    std::vector<checks::AssetStanding> by_row(layers.ways.size());
    for (std::size_t w = 0; w < net.ways.size(); ++w) {
        if (net.ways[w].row.is_valid()) {
            by_row[net.ways[w].row.index()] = results.standing.ways[w];
        }
    }
    const std::span<const Field<WayRowView>> fields(kWayRowFields);
    AssetCopy copy(m_source, m_out, results.read, AssetLayer::ways, declared(fields));
    while (copy.next()) {
        fill(copy.row(), fields,
             WayRowView{other_id(layers, AssetLayer::ways, copy.position()),
                        by_row[copy.position()]});
        copy.write();
    }
}

void Writer::copy_others() {
    for (const AssetLayer layer : {AssetLayer::joints, AssetLayer::mains, AssetLayer::terminations,
                                   AssetLayer::loads, AssetLayer::readings}) {
        if (m_source.layer(layer) == nullptr) {
            continue;
        }
        AssetCopy copy(m_source, m_out, results.read, layer, {{"lw_id", gis::FieldKind::text}});
        while (copy.next()) {
            Cell(copy.row(), 0).set(std::string_view(other_id(layers, layer, copy.position())));
            copy.write();
        }
    }
}

} // namespace loopwalk::output
