// Pages of joints and cables: the loop at a point of the network, and what protects it there.
#include "loopwalk/base/text.hpp"

#include "parts.hpp"
#include <algorithm>

namespace loopwalk::report {
namespace {

using base::SectionId;
using base::VertexId;
using protection::Judge;

constexpr double kHighwayLimit = 5.0;

std::string cover_text(protection::Cover cover) {
    switch (cover) {
    case protection::Cover::clears:
        return "clears";
    case protection::Cover::does_not_clear:
        return "does not clear";
    case protection::Cover::undecided:
        return "undecided";
    case protection::Cover::no_device:
        return "no device";
    }
    return "";
}

std::string limit_text(const Context& c, const network::Device& device) {
    if (device.limit.has_value()) {
        return "limit_s of the way";
    }
    return c.rules().disconnection.value() == kHighwayLimit
               ? "fixed highway equipment, BS 7671:2018+A2 reg 714.411.202"
               : "the job's disconnection_s";
}

void write_cover(Context& c, SectionId section, const impedance::Source& source, const Loop& loop) {
    const figures::SectionFigures& figures = c.results.figures.sections[section.index()];
    c.page.heading("Does its device clear a fault here");
    const protection::SectionCover cover = c.judge.covers().of(section);
    if (figures.device.is_valid() && !c.judge.devices().is_distributors(figures.device) &&
        !source.is_tt) {
        const network::Device& device = c.net().devices[figures.device.index()];
        const DutyFigures worked = write_duty(c, {c.judge.devices().choices(figures.device),
                                                  c.explain.device_name(figures.device),
                                                  device.limit.value_or(c.rules().disconnection),
                                                  limit_text(c, device), source, loop});
        if (cover.clear.has_value()) {
            must_agree(worked.clear.value_or(base::Second(0.0)).value(), (*cover.clear).value(),
                       "the clearing time");
        }
    }
    c.page.paragraph("A fault at the far end of section " + c.section_name(section) + ": " +
                     cover_text(cover.cover) + ".");
}

std::vector<TypeUse> types_of(const Context& c, const Trail& trail) {
    std::vector<TypeUse> types;
    for (const SectionId id : c.sections_of(trail)) {
        types.push_back(type_of(c, id));
    }
    for (const SectionId id : loop_sections(trail)) {
        types.push_back(type_of(c, id));
    }
    return types;
}

/// The working of the loop at a vertex that a section feeds.
void write_point(Context& c, SectionId section, VertexId end) {
    const figures::SectionFigures& figures = c.results.figures.sections[section.index()];
    Trail trail = c.trail_to(end);
    trail.infeed = figures.infeed;
    const impedance::Source* source = c.source_of(trail.infeed);
    write_route(c, trail, protection_text(c, figures::devices_of(c.results.figures, section)));
    if (source == nullptr) {
        c.page.paragraph("The impedance of the distributor's main is not worked out.");
        return;
    }
    write_source(c, trail.infeed);
    if (!can_work_loops(c, trail)) {
        c.page.paragraph("Closed loops lie on the way whose records leave a range, or that several "
                         "supplies feed: their bounds are given above, not worked, here.");
        return;
    }
    c.page.heading("Cable types, ohm per km");
    write_types(c, types_of(c, trail));
    write_length_rule(c);
    write_lengths(c, c.sections_of(trail));
    const std::vector<LoopOhms> loops = write_loops(c, trail);
    const TrailOhms ohms = write_trail_ohms(c, trail, loops);
    const Loop loop = write_loop(c, *source, ohms);
    if (figures.zs_low.has_value()) {
        must_agree(loop.zs_low.value_or(0.0).value(), (*figures.zs_low).value(),
                   "the loop impedance (low)");
    }
    if (figures.zs_high.has_value()) {
        must_agree(loop.zs_high.value_or(0.0).value(), (*figures.zs_high).value(),
                   "the loop impedance (high)");
    }
    write_cover(c, section, *source, loop);
    static_cast<void>(write_prospective(c, trail, *source, ohms)); // nothing here is judged by it
}

bool is_looped(const Context& c, SectionId id) {
    return c.results.figures.block_of.contains(id);
}

VertexId far_end(const Context& c, SectionId id) {
    return c.results.figures.sections[id.index()].is_reversed ? c.net().section_from[id.index()]
                                                              : c.net().section_to[id.index()];
}

std::string ohms_text(const base::Maybe<base::Ohm>& z) {
    return z.has_value() ? written((*z).value()) : "-";
}

/// "supply/way", or the main that feeds it; "-" if it is not traced or fed by several.
std::string infeed_name(const Context& c, base::InfeedId id) {
    if (!id.is_valid()) {
        return "-";
    }
    return c.explain.infeed_name(id);
}

std::string devices_text(const Context& c, SectionId id) {
    const auto devices = figures::devices_of(c.results.figures, id);
    return devices.empty() ? "-" : c.explain.device_names(devices);
}

void add_section(const Context& c, Table& table, SectionId id) {
    const figures::SectionFigures& figures = c.results.figures.sections[id.index()];
    const network::Section& section = c.section(id);
    const auto length = c.ohms.length(id);
    const auto cover = c.judge.covers().of(id);
    table.rows.push_back(
        {c.section_name(id), c.node_name(figures.is_reversed ? section.to : section.from),
         c.node_name(figures.is_reversed ? section.from : section.to),
         infeed_name(c, figures.infeed), written(length.low.value()), written(length.high.value()),
         ohms_text(figures.zs_low), ohms_text(figures.zs_high), devices_text(c, id),
         cover_text(cover.cover)});
}

/// Of the sections that one path leads to the one with the largest loop; without any loop impedance
/// the last one.
SectionId worst_section(const Context& c, const std::vector<SectionId>& sections) {
    SectionId worst;
    for (const SectionId id : sections) {
        const figures::SectionFigures& figures = c.results.figures.sections[id.index()];
        if (!figures.is_on_path || is_looped(c, id)) {
            continue;
        }
        const auto& most =
            worst.is_valid() ? c.results.figures.sections[worst.index()].zs_high : figures.zs_high;
        const bool larger =
            !most.has_value() || (figures.zs_high.has_value() && *figures.zs_high >= *most);
        worst = !worst.is_valid() || larger ? id : worst;
    }
    return worst;
}

std::vector<SectionId> sections_of(const Context& c, base::CableId cable) {
    std::vector<SectionId> sections;
    const auto& first = c.net().snapped.first_section;
    for (std::size_t s = first[cable.index()]; s < first[cable.index() + 1]; ++s) {
        sections.emplace_back(s);
    }
    return sections;
}

/// A cable that no one path leads through.
void write_no_point(Context& c, const std::vector<SectionId>& sections) {
    if (std::ranges::any_of(sections, [&](SectionId id) { return is_looped(c, id); })) {
        c.page.paragraph("The cable is part of a closed loop. Zs is that at the highest place of "
                         "each section, which lies inside it (docs/method.md section 5); the pages "
                         "of the columns on the loop have the working.");
    } else {
        c.page.paragraph("No source was found in the records for this cable: treat as live.");
    }
}

} // namespace

void write_cable(Context& c, base::CableId id) {
    const model::Cable& cable = c.layers().cables[id.index()];
    c.page.title = "Cable " + c.text(cable.id) + ": the working";
    if (!model::conducts(cable.status)) {
        c.page.paragraph("The cable is recorded as removed or disconnected and takes no part in "
                         "the calculation. It may be live all the same.");
    }
    const auto sections = sections_of(c, id);
    c.page.heading("Its sections");
    if (sections.empty()) {
        c.page.paragraph("The cable has no usable line in the records.");
    } else {
        Table table{{{"section"},
                     {"from"},
                     {"to"},
                     {"supply/way"},
                     {"m low", Align::number},
                     {"m high", Align::number},
                     {"Zs low", Align::number},
                     {"Zs high", Align::number},
                     {"protected by"},
                     {"cover"}},
                    {}};
        for (const SectionId section : sections) {
            add_section(c, table, section);
        }
        c.page.paragraph("Lengths in m; Zs in ohm at the far end of each section, in a closed loop "
                         "at its highest place. The working below is for the section with the "
                         "largest Zs.");
        c.page.add(std::move(table));
    }
    const SectionId worst = worst_section(c, sections);
    if (worst.is_valid()) {
        write_point(c, worst, far_end(c, worst));
    } else {
        write_no_point(c, sections);
    }
    write_findings(c, {base::AssetLayer::cables, static_cast<std::uint32_t>(id.index())});
    write_cautions(c);
}

void write_joint(Context& c, base::JointId id) {
    const model::Joint& joint = c.layers().joints[id.index()];
    c.page.title = "Joint " + c.text(joint.id) + ": the working";
    const base::NodeId node = c.net().snapped.joint_node[id.index()];
    const VertexId vertex = node.is_valid() ? VertexId(node.index()) : VertexId{};
    const base::DeviceId device = c.net().joint_device[id.index()];
    if (device.is_valid()) {
        c.page.paragraph(
            "A fused joint: " + c.explain.fuse_text(c.net().devices[device.index()].fuse) +
            " protects what lies beyond it.");
    }
    write_ends(c, node);
    const auto& trace = c.results.trace;
    const bool has_parent = vertex.is_valid() && trace.parent[vertex.index()].is_valid();
    const base::EdgeId edge = has_parent ? trace.parent_edge[vertex.index()] : base::EdgeId{};
    if (has_parent && c.net().is_section(edge) && !is_looped(c, SectionId(edge.index())) &&
        c.results.figures.sections[edge.index()].is_on_path) {
        write_point(c, SectionId(edge.index()), vertex);
    } else {
        c.page.paragraph(
            "No single path from a supply leads to this joint: not traced, on a closed "
            "loop, or fed from several sides. Where no source was found, treat as "
            "live.");
    }
    write_findings(c, {base::AssetLayer::joints, static_cast<std::uint32_t>(id.index())});
    write_cautions(c);
}

} // namespace loopwalk::report
