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

CableView view_of(const Writer& w, base::CableId id) {
    const model::Cable& cable = w.layers.cables[id.index()];
    CableView v{w, cable, "none", {}, {}, {}, {}, {}, 0, {}, {}, {}, Verdict::none};
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
    Field<CableView>{"lw_why", kText, [](Cell c, const CableView& v) { c.set(v.why); }},
};
// clang-format on

struct SupplyView {
    const Writer& w;
    base::SupplyId id;
    const checks::SupplySummary& sum;
};

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
                      [](Cell c, const SupplyView& v) { c.set(supply_why(v.sum)); }},
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
        fill(copy.row(), fields, SupplyView{*this, id, results.review.supplies[id.index()]});
        copy.write();
    }
}

void Writer::copy_others() {
    for (const AssetLayer layer :
         {AssetLayer::ways, AssetLayer::joints, AssetLayer::mains, AssetLayer::terminations,
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
