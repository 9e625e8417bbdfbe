// Layers of the network itself: sections, circuits, fuse cover, gaps and moves.
#include "loopwalk/base/error.hpp"

#include "fields.hpp"
#include "writer.hpp"
#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>

namespace loopwalk::output {
namespace {

using assess::Conductors;
using assess::Judge;
using assess::Verdict;

/// A move shorter than a record can mean is none.
constexpr double kNoMove = 1e-6;

struct SectionView {
    const Writer& w;
    base::SectionId id;
    const network::Section& section;
    const assess::SectionFigures& figures;
    const trace::Component* component;
    Conductors ohms;
    Judge::SectionCover cover;
    bool is_traced = false;
};

std::string cable_name(const SectionView& v) {
    return v.w.layers.id_text(v.w.layers.cables[v.section.cable.index()].id);
}

std::string_view cover_name(const SectionView& v) {
    if (!v.is_traced) {
        return {};
    }
    return output::cover_name(v.cover.cover);
}

// clang-format off: one field a line
constexpr std::array kSectionFields = {
    Field<SectionView>{"section_id", kText,
                       [](Cell c, const SectionView& v) {
                           c.set(std::string_view(cable_name(v) + "/" +
                                                  std::to_string(v.section.number)));
                       }},
    Field<SectionView>{
        "cable_id", kText,
        [](Cell c, const SectionView& v) { c.set(std::string_view(cable_name(v))); }},
    Field<SectionView>{"part", kInteger,
                       [](Cell c, const SectionView& v) { c.set(std::int64_t{v.section.number}); }},
    Field<SectionView>{"from_id", kText,
                       [](Cell c, const SectionView& v) {
                           c.set(std::string_view(v.w.node_name(
                               v.figures.is_reversed ? v.section.to : v.section.from)));
                       }},
    Field<SectionView>{"to_id", kText,
                       [](Cell c, const SectionView& v) {
                           c.set(std::string_view(v.w.node_name(
                               v.figures.is_reversed ? v.section.from : v.section.to)));
                       }},
    Field<SectionView>{"lw_supply_id", kText,
                       [](Cell c, const SectionView& v) {
                           if (v.is_traced) {
                               c.set(std::string_view(v.w.supply_of(*v.component)));
                           }
                       }},
    Field<SectionView>{"lw_way", kText,
                       [](Cell c, const SectionView& v) {
                           if (v.is_traced) {
                               c.set(std::string_view(v.w.way_of(*v.component)));
                           }
                       }},
    Field<SectionView>{"length_m", kReal,
                       [](Cell c, const SectionView& v) {
                           c.set(network::section_length(v.w.layers, v.section));
                       }},
    Field<SectionView>{"r_line_ohm", kReal,
                       [](Cell c, const SectionView& v) { c.set(v.ohms.line.real()); }},
    Field<SectionView>{"x_line_ohm", kReal,
                       [](Cell c, const SectionView& v) { c.set(v.ohms.line.imag()); }},
    Field<SectionView>{"r_earth_ohm", kReal,
                       [](Cell c, const SectionView& v) {
                           if (v.figures.earth == assess::EarthPathState::intact) {
                               c.set(v.ohms.earth.real());
                           }
                       }},
    Field<SectionView>{"x_earth_ohm", kReal,
                       [](Cell c, const SectionView& v) {
                           if (v.figures.earth == assess::EarthPathState::intact) {
                               c.set(v.ohms.earth.imag());
                           }
                       }},
    Field<SectionView>{"lw_zs_high_ohm", kReal,
                       [](Cell c, const SectionView& v) { c.set(v.figures.zs_high); }},
    Field<SectionView>{"lw_device", kText,
                       [](Cell c, const SectionView& v) {
                           c.set(std::string_view(v.w.explain.device_name(v.figures.device)));
                       }},
    Field<SectionView>{"lw_clear_s", kReal,
                       [](Cell c, const SectionView& v) { c.set(v.cover.clear); }},
    Field<SectionView>{"lw_cover", kText,
                       [](Cell c, const SectionView& v) { c.set(cover_name(v)); }},
    Field<SectionView>{"lw_current_a", kReal,
                       [](Cell c, const SectionView& v) { c.set(v.figures.current); }},
};
// clang-format on

struct CircuitView {
    const Writer& w;
    base::RootId id;
    const network::Way& way;
    const assess::RootFigures& figures;
    const assess::RootSummary& sum;
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
    if (v.figures.loops > 0) {
        return "holds a closed loop: columns whose path uses it have no figures";
    }
    if (v.sum.verdict == Verdict::not_ours) {
        return "only the distributor's main fuse stands before it: ask the distributor";
    }
    if ((v.sum.verdict != Verdict::fails && v.sum.verdict != Verdict::undecided) ||
        !v.sum.worst.is_valid()) {
        return {};
    }
    std::string text =
        column_name(v.w, v.sum.worst) + " " + v.w.explain.side(v.sum.worst, v.sum.worst_side);
    if (v.sum.verdict == Verdict::undecided) {
        const std::string settles = v.w.explain.settled_by(v.sum.worst, v.sum.worst_side);
        text += settles.empty() ? "" : "; settled by " + settles;
    }
    return text;
}

// clang-format off: one field a line
constexpr std::array kCircuitFields = {
    Field<CircuitView>{"supply_id", kText,
                       [](Cell c, const CircuitView& v) {
                           c.set(std::string_view(v.w.explain.supply_name(v.id)));
                       }},
    Field<CircuitView>{
        "way", kText,
        [](Cell c, const CircuitView& v) { c.set(std::string_view(v.w.explain.way_name(v.id))); }},
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
    Field<CircuitView>{"zs_high_ohm", kReal,
                       [](Cell c, const CircuitView& v) { c.set(v.sum.worst_side.zs_high); }},
    Field<CircuitView>{"zs_limit_ohm", kReal,
                       [](Cell c, const CircuitView& v) { c.set(v.sum.worst_side.zs_limit); }},
    Field<CircuitView>{"margin", kReal,
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
    Field<CircuitView>{"ring", kInteger,
                       [](Cell c, const CircuitView& v) { c.set(std::int64_t{v.figures.loops}); }},
    Field<CircuitView>{
        "verdict", kText,
        [](Cell c, const CircuitView& v) { c.set(assess::verdict_name(v.sum.verdict)); }},
    Field<CircuitView>{
        "why", kText,
        [](Cell c, const CircuitView& v) { c.set(std::string_view(circuit_why(v))); }},
};
// clang-format on

struct CoverView {
    const Writer& w;
    base::DeviceId id;
    const network::Device& device;
    const assess::DeviceSummary& sum;
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
        [](Cell c, const CoverView& v) { c.set(assess::verdict_name(v.sum.verdict)); }},
};
// clang-format on

/// Sections by a group number; those without one are left out.
class Groups {
  public:
    template <class GroupOf>
    Groups(std::size_t sections, GroupOf group_of) {
        for (std::uint32_t s = 0; s < sections; ++s) {
            const std::uint32_t group = group_of(s);
            if (group != kNone) {
                m_members.emplace_back(group, s);
            }
        }
        std::ranges::sort(m_members);
    }

    [[nodiscard]] auto of(std::uint32_t group) const {
        return std::ranges::equal_range(m_members, group, {},
                                        &std::pair<std::uint32_t, std::uint32_t>::first);
    }

    static constexpr std::uint32_t kNone = 0xffffffffU;

  private:
    std::vector<std::pair<std::uint32_t, std::uint32_t>> m_members;
};

std::string_view move_name(network::MoveKind kind) {
    switch (kind) {
    case network::MoveKind::end_to_asset:
        return "end to asset";
    case network::MoveKind::end_to_end:
        return "end to end";
    case network::MoveKind::cut_at_asset:
        return "cut at asset";
    case network::MoveKind::tee_assumed:
        return "tee assumed";
    }
    return {};
}

} // namespace

void Writer::write_sections() {
    const std::span<const Field<SectionView>> fields(kSectionFields);
    auto writer = m_out.create_layer(
        {"sections", gis::GeometryKind::line, gis::SpatialIndex::yes, declared(fields)},
        results.read.cables);
    m_progress.stage("write sections", net.snapped.sections.size());
    for (std::size_t s = 0; s < net.snapped.sections.size(); ++s) {
        const base::SectionId id(s);
        SectionView view{*this,
                         id,
                         net.snapped.sections[s],
                         results.figures.sections[s],
                         nullptr,
                         m_ohms.hot_high(id),
                         {},
                         false};
        if (net.section_from[s].is_valid()) {
            view.component = results.trace.find(net.section_from[s]);
            LW_ASSERT(view.component != nullptr);
            view.is_traced = view.component->root_count > 0;
        }
        if (view.is_traced) {
            view.cover = judge.section(id);
        }
        fill(writer.row(), fields, view);
        writer.write({line_of(id)});
        m_progress.step(s);
    }
}

void Writer::write_circuits() {
    const std::span<const Field<CircuitView>> fields(kCircuitFields);
    auto writer = m_out.create_layer(
        {"circuits", gis::GeometryKind::multi_line, gis::SpatialIndex::yes, declared(fields)},
        results.read.cables);
    const Groups groups(net.snapped.sections.size(), [&](std::uint32_t s) {
        const base::VertexId v = net.section_from[s];
        return v.is_valid()
                   ? static_cast<std::uint32_t>(results.trace.component_of[v.index()].index())
                   : Groups::kNone;
    });
    for (std::size_t r = 0; r < net.roots.size(); ++r) {
        const network::Root& root = net.roots[r];
        if (!root.way.is_valid()) {
            continue;
        }
        const CircuitView view{*this, base::RootId(r), net.ways[root.way.index()],
                               results.figures.roots[r], results.review.roots[r]};
        fill(writer.row(), fields, view);
        std::vector<base::Polyline> lines;
        const std::size_t component = results.trace.component_of[root.vertex.index()].index();
        for (const auto& [group, section] : groups.of(static_cast<std::uint32_t>(component))) {
            lines.push_back(line_of(base::SectionId(section)));
        }
        writer.write(lines);
    }
}

void Writer::write_fuse_cover() {
    const std::span<const Field<CoverView>> fields(kCoverFields);
    auto writer = m_out.create_layer(
        {"fuse_cover", gis::GeometryKind::multi_line, gis::SpatialIndex::yes, declared(fields)},
        results.read.cables);
    const Groups groups(net.snapped.sections.size(), [&](std::uint32_t s) {
        const base::DeviceId device = results.figures.sections[s].device;
        return device.is_valid() ? static_cast<std::uint32_t>(device.index()) : Groups::kNone;
    });
    std::vector<std::pair<std::string, base::DeviceId>> order;
    for (std::size_t d = 0; d < net.devices.size(); ++d) {
        if (net.devices[d].kind != network::DeviceKind::distributor) {
            order.emplace_back(explain.device_name(base::DeviceId(d)), base::DeviceId(d));
        }
    }
    std::ranges::sort(order);
    for (const auto& [name, id] : order) {
        const auto members = groups.of(static_cast<std::uint32_t>(id.index()));
        if (members.empty()) {
            continue;
        }
        fill(writer.row(), fields,
             CoverView{*this, id, net.devices[id.index()], results.review.devices[id.index()]});
        std::vector<base::Polyline> lines;
        for (const auto& [group, section] : members) {
            lines.push_back(line_of(base::SectionId(section)));
        }
        writer.write(lines);
    }
}

void Writer::write_gaps() {
    auto writer = m_out.create_layer({"gaps",
                                      gis::GeometryKind::line,
                                      gis::SpatialIndex::yes,
                                      {{"from_id", kText},
                                       {"to_id", kText},
                                       {"distance_m", kReal},
                                       {"would_feed", kInteger},
                                       {"rank", kInteger}}},
                                     results.read.cables);
    std::int64_t rank = 0;
    for (const trace::RankedGap& ranked : trace::rank_gaps(layers, net, results.trace)) {
        const network::Gap& gap = net.snapped.gaps[ranked.gap];
        const std::string to = gap.to.is_valid()
                                   ? node_name(gap.to)
                                   : layers.id_text(layers.cables[gap.to_cable.index()].id);
        gis::Row& row = writer.row();
        Cell(row, 0).set(std::string_view(node_name(gap.from)));
        Cell(row, 1).set(std::string_view(to));
        Cell(row, 2).set(gap.distance_m);
        Cell(row, 3).set(std::int64_t{ranked.would_feed});
        Cell(row, 4).set(++rank);
        writer.write({in_output_crs({gap.from_place, gap.to_place})});
    }
}

void Writer::write_moves() {
    auto writer = m_out.create_layer({"moves",
                                      gis::GeometryKind::line,
                                      gis::SpatialIndex::no,
                                      {{"asset_layer", kText},
                                       {"asset_id", kText},
                                       {"kind", kText},
                                       {"to_id", kText},
                                       {"moved_m", kReal}}},
                                     results.read.cables);
    std::vector<const network::Move*> order;
    for (const network::Move& move : net.snapped.moves) {
        if (move.moved_m > kNoMove) {
            order.push_back(&move);
        }
    }
    std::ranges::sort(order, [](const network::Move* a, const network::Move* b) {
        return std::tie(a->cable, a->from, a->kind, a->to) <
               std::tie(b->cable, b->from, b->kind, b->to);
    });
    for (const network::Move* move : order) {
        gis::Row& row = writer.row();
        Cell(row, 0).set(std::string_view("cables"));
        Cell(row, 1).set(layers.text.view(layers.cables[move->cable.index()].id));
        Cell(row, 2).set(move_name(move->kind));
        Cell(row, 3).set(std::string_view(node_name(move->node)));
        Cell(row, 4).set(move->moved_m);
        writer.write({in_output_crs({move->from, move->to})});
    }
}

} // namespace loopwalk::output
