// Ways of sources and what each device protects, with the lines they run along.
#include "loopwalk/base/grouped.hpp"

#include "fields.hpp"
#include "writer.hpp"
#include <algorithm>
#include <array>
#include <unordered_map>

namespace loopwalk::output {
namespace {

using protection::Verdict;

struct CircuitView {
    const Writer& w;
    base::InfeedId id;
    const network::Way& way;
    const figures::InfeedFigures& figures;
    const checks::InfeedSummary& sum;
    const checks::AssetStanding& standing;
};

const model::FuseRecord* fuse_of(const CircuitView& v) {
    return v.way.device.is_valid() ? &v.w.net.devices[v.way.device.index()].fuse : nullptr;
}

std::string type_text(const Writer& w, const model::FuseRecord& fuse) {
    if (fuse.word == model::FuseRecord::Word::known) {
        return w.results.catalogue.fuse(fuse.type).name;
    }
    return w.layers.id_text(fuse.text);
}

std::string column_name(const Writer& w, base::ColumnId id) {
    return id.is_valid() ? w.layers.id_text(w.layers.columns[id.index()].id) : std::string{};
}

std::string circuit_why(const CircuitView& v) {
    if (v.sum.verdict == Verdict::not_ours) {
        return "only the distributor's main fuse stands before it: ask the distributor";
    }
    if (v.sum.verdict != Verdict::fails && v.sum.verdict != Verdict::undecided) {
        return {};
    }
    if (v.sum.worst.is_valid() && v.sum.worst_side.verdict == v.sum.verdict) {
        std::string text =
            column_name(v.w, v.sum.worst) + " " + v.w.explain.side(v.sum.worst, v.sum.worst_side);
        if (v.sum.verdict == Verdict::undecided) {
            const std::string settles = v.w.explain.settled_by(v.sum.worst, v.sum.worst_side);
            text += settles.empty() ? "" : "; settled by " + settles;
        }
        return text;
    }
    if (v.sum.device == v.sum.verdict) {
        return v.sum.verdict == Verdict::fails
                   ? "its fuse can break less than the prospective current there"
                   : "whether its fuse can break the prospective current cannot be judged";
    }
    const base::ColumnId worst = v.sum.worst_column;
    return column_name(v.w, worst) + ": " + v.w.explain.column(worst, v.w.judge.column(worst));
}

/// Columns with a verdict.
template <Verdict V>
constexpr Field<CircuitView> count_field(std::string_view name) {
    return {name, kInteger, [](Cell c, const CircuitView& v) {
                c.set(std::int64_t{v.sum.by_verdict[static_cast<std::size_t>(V)]});
            }};
}

// clang-format off: one field a line
constexpr std::array
    kCircuitFields =
        {
            Field<CircuitView>{"supply_id", kText,
                               [](Cell c, const CircuitView& v) {
                                   c.set(std::string_view(v.w.explain.supply_name(v.id)));
                               }},
            Field<CircuitView>{"way", kText,
                               [](Cell c, const CircuitView& v) {
                                   c.set(std::string_view(v.w.explain.way_name(v.id)));
                               }},
            Field<CircuitView>{
                "circuit", kText,
                [](Cell c, const CircuitView& v) { c.set(v.w.layers.text.view(v.way.circuit)); }},
            Field<CircuitView>{
                "columns", kInteger,
                [](Cell c, const CircuitView& v) { c.set(std::int64_t{v.figures.columns}); }},
            Field<CircuitView>{"length_m", kReal,
                               [](Cell c, const CircuitView& v) { c.set(v.figures.length); }},
            Field<CircuitView>{"load_w", kReal,
                               [](Cell c, const CircuitView& v) {
                                   if (v.figures.load.is_exact()) {
                                       c.set(v.figures.load.low);
                                   }
                               }},
            Field<CircuitView>{"device_type", kText,
                               [](Cell c, const CircuitView& v) {
                                   if (fuse_of(v) != nullptr) {
                                       c.set(std::string_view(type_text(v.w, *fuse_of(v))));
                                   }
                               }},
            Field<CircuitView>{"device_a", kReal,
                               [](Cell c, const CircuitView& v) {
                                   if (fuse_of(v) != nullptr) {
                                       c.set(fuse_of(v)->rating);
                                   }
                               }},
            Field<CircuitView>{"design_current_a", kReal,
                               [](Cell c, const CircuitView& v) { c.set(v.figures.design_high); }},
            Field<CircuitView>{
                "zs_high_ohm", kReal,
                [](Cell c, const CircuitView& v) { c.set(v.sum.worst_side.zs_high); }},
            Field<CircuitView>{
                "zs_limit_ohm", kReal,
                [](Cell c, const CircuitView& v) { c.set(v.sum.worst_side.zs_limit); }},
            Field<CircuitView>{
                "margin", kReal,
                [](Cell c, const CircuitView& v) { c.set(v.sum.worst_side.margin); }},
            Field<CircuitView>{"worst_id", kText,
                               [](Cell c, const CircuitView& v) {
                                   c.set(std::string_view(column_name(v.w, v.sum.worst)));
                               }},
            Field<CircuitView>{"fails_from_id", kText,
                               [](Cell c, const CircuitView& v) {
                                   c.set(std::string_view(column_name(v.w, v.sum.fails_from)));
                               }},
            Field<CircuitView>{"clear_s", kReal,
                               [](Cell c, const CircuitView& v) { c.set(v.sum.worst_side.clear); }},
            Field<CircuitView>{"limit_s", kReal,
                               [](Cell c, const CircuitView& v) { c.set(v.sum.worst_side.limit); }},
            Field<CircuitView>{"vdrop_high_pct", kReal,
                               [](Cell c, const CircuitView& v) { c.set(v.sum.vdrop_high_pct); }},
            Field<CircuitView>{
                "ring", kInteger,
                [](Cell c, const CircuitView& v) { c.set(std::int64_t{v.figures.loops}); }},
            Field<CircuitView>{"fuse_max_a", kReal,
                               [](Cell c, const CircuitView& v) { c.set(v.sum.fuse_max); }},
            Field<CircuitView>{"fuse_min_a", kReal,
                               [](Cell c, const CircuitView& v) { c.set(v.sum.fuse_min); }},
            count_field<Verdict::meets>("n_meets"),
            count_field<Verdict::undecided>("n_undecided"),
            count_field<Verdict::fails>("n_fails"),
            count_field<Verdict::not_traced>("n_not_traced"),
            Field<CircuitView>{
                "verdict",
                kText,
                [](Cell c, const CircuitView& v) {
                    c.set(protection::verdict_name(v.sum.verdict));
                }},
            Field<CircuitView>{
                "why",
                kText,
                [](Cell c, const CircuitView& v) {
                    c.set(std::string_view(with_worst(v.standing, v.sum.verdict, circuit_why(v))));
                }},
            worst_field<CircuitView>(),
            worst_rule_field<CircuitView>(),
            findings_field<CircuitView>(),
};
// clang-format on

struct CoverView {
    const Writer& w;
    base::DeviceId id;
    const network::Device& device;
    const checks::DeviceSummary& sum;
};

std::string_view device_kind(network::DeviceKind kind) {
    switch (kind) {
    case network::DeviceKind::way:
        return "way";
    case network::DeviceKind::joint:
        return "joint";
    case network::DeviceKind::cut_out:
        return "cut-out";
    case network::DeviceKind::distributor:
        return "distributor";
    }
    return {};
}

// clang-format off: one field a line
constexpr std::array kCoverFields = {
    Field<CoverView>{
        "device_id", kText,
        [](Cell c, const CoverView& v) { c.set(std::string_view(v.w.explain.device_name(v.id))); }},
    Field<CoverView>{"kind", kText,
                     [](Cell c, const CoverView& v) { c.set(device_kind(v.device.kind)); }},
    Field<CoverView>{
        "type", kText,
        [](Cell c, const CoverView& v) { c.set(std::string_view(type_text(v.w, v.device.fuse))); }},
    Field<CoverView>{"rating_a", kReal,
                     [](Cell c, const CoverView& v) { c.set(v.device.fuse.rating); }},
    Field<CoverView>{"clears_m", kReal, [](Cell c, const CoverView& v) { c.set(v.sum.clears_m); }},
    Field<CoverView>{"not_m", kReal, [](Cell c, const CoverView& v) { c.set(v.sum.not_m); }},
    Field<CoverView>{"undecided_m", kReal,
                     [](Cell c, const CoverView& v) { c.set(v.sum.undecided_m); }},
    Field<CoverView>{"columns", kInteger,
                     [](Cell c, const CoverView& v) { c.set(std::int64_t{v.sum.columns}); }},
    Field<CoverView>{
        "verdict", kText,
        [](Cell c, const CoverView& v) { c.set(protection::verdict_name(v.sum.verdict)); }},
};
// clang-format on

} // namespace

namespace {

/// Each of many joined ways feeds all of their cables. Drawn with all of them each, a thousand ways
/// of a thousand cables would fill a disk: beyond this number each is drawn with its first cables.
constexpr std::uint32_t kMostDrawnWhole = solution::MultiFeed::kMostFollowed;

std::vector<std::uint32_t> leaving(const network::Network& net,
                                   std::span<const std::uint32_t> sections, base::InfeedId infeed) {
    std::vector<std::uint32_t> found;
    for (const std::uint32_t s : sections) {
        if (net.section_from[s] == net.vertex_of(infeed) ||
            net.section_to[s] == net.vertex_of(infeed)) {
            found.push_back(s);
        }
    }
    return found;
}

} // namespace

void Writer::write_circuits() {
    const std::span<const Field<CircuitView>> fields(kCircuitFields);
    auto writer = m_out.create_layer(
        {"circuits", gis::GeometryKind::multi_line, gis::SpatialIndex::yes, declared(fields)},
        results.read.cables);
    base::Grouped<base::ComponentId> sections;
    for (std::uint32_t s = 0; s < net.snapped.sections.size(); ++s) {
        if (const base::VertexId v = net.section_from[s]; v.is_valid()) {
            sections.add(results.trace.component_of[v.index()], s);
        }
    }
    sections.freeze();
    for (std::size_t r = 0; r < net.infeeds.size(); ++r) {
        const base::InfeedId infeed(r);
        const auto way = net.way_of(infeed);
        if (!way.has_value()) {
            continue;
        }
        const CircuitView view{*this,
                               infeed,
                               net.ways[way->index()],
                               results.figures.infeeds[r],
                               results.review.infeeds[r],
                               results.standing.ways[way->index()]};
        fill(writer.row(), fields, view);
        const base::ComponentId of = results.trace.component_of[net.vertex_of(infeed).index()];
        const bool is_drawn_whole =
            results.trace.components[of.index()].infeed_count <= kMostDrawnWhole;
        writer.write(is_drawn_whole ? lines_of(sections.of(of))
                                    : lines_of(leaving(net, sections.of(of), infeed)));
    }
}

void Writer::write_fuse_cover() {
    const std::span<const Field<CoverView>> fields(kCoverFields);
    auto writer = m_out.create_layer(
        {"fuse_cover", gis::GeometryKind::multi_line, gis::SpatialIndex::yes, declared(fields)},
        results.read.cables);
    base::Grouped<base::DeviceId> sections;
    std::unordered_map<base::VertexId, base::DeviceId> device_at; // first of each infeed
    for (std::size_t i = 0; i < net.infeeds.size(); ++i) {
        device_at.emplace(net.infeeds[i].vertex, net.device_of(base::InfeedId(i)));
    }
    for (std::uint32_t s = 0; s < net.snapped.sections.size(); ++s) {
        const auto devices = devices_of(results.figures, base::SectionId(s));
        if (devices.size() <= kMostDrawnWhole) {
            for (const base::DeviceId device : devices) {
                if (!judge.devices().is_distributors(device) ||
                    judge.facts().is_councils(base::SectionId(s))) {
                    sections.add(device, s);
                }
            }
            continue;
        }
        for (const base::VertexId end : {net.section_from[s], net.section_to[s]}) {
            if (const auto at = device_at.find(end);
                at != device_at.end() && at->second.is_valid()) {
                sections.add(at->second, s);
            }
        }
    }
    sections.freeze();
    std::vector<std::pair<std::string, base::DeviceId>> order;
    for (std::size_t d = 0; d < net.devices.size(); ++d) {
        if (net.devices[d].kind != network::DeviceKind::distributor ||
            results.review.devices[d].verdict != Verdict::none) { // council cable behind it
            order.emplace_back(explain.device_name(base::DeviceId(d)), base::DeviceId(d));
        }
    }
    std::ranges::sort(order);
    for (const auto& [name, id] : order) {
        const auto members = sections.of(id);
        if (members.empty()) {
            continue;
        }
        fill(writer.row(), fields,
             CoverView{*this, id, net.devices[id.index()], results.review.devices[id.index()]});
        writer.write(lines_of(members));
    }
}

} // namespace loopwalk::output
