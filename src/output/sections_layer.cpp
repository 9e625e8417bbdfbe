// The network piece by piece.
#include "loopwalk/base/error.hpp"

#include "fields.hpp"
#include "writer.hpp"
#include <array>

namespace loopwalk::output {
namespace {

using impedance::Conductors;
using protection::Judge;

struct SectionView {
    const Writer& w;
    base::SectionId id;
    const network::Section& section;
    const figures::SectionFigures& figures;
    const trace::Component* component = nullptr;
    Conductors ohms;
    protection::SectionCover cover;
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
                           if (v.figures.earth == impedance::EarthPathState::intact) {
                               c.set(v.ohms.earth.real());
                           }
                       }},
    Field<SectionView>{"x_earth_ohm", kReal,
                       [](Cell c, const SectionView& v) {
                           if (v.figures.earth == impedance::EarthPathState::intact) {
                               c.set(v.ohms.earth.imag());
                           }
                       }},
    Field<SectionView>{"lw_zs_high_ohm", kReal,
                       [](Cell c, const SectionView& v) { c.set(v.figures.zs_high); }},
    Field<SectionView>{"lw_device", kText,
                       [](Cell c, const SectionView& v) {
                           c.set(std::string_view(
                               v.w.explain.device_names(devices_of(v.w.results.figures, v.id))));
                       }},
    Field<SectionView>{"lw_clear_s", kReal,
                       [](Cell c, const SectionView& v) { c.set(v.cover.clear); }},
    Field<SectionView>{"lw_cover", kText,
                       [](Cell c, const SectionView& v) { c.set(cover_name(v)); }},
    Field<SectionView>{"lw_current_a", kReal,
                       [](Cell c, const SectionView& v) { c.set(v.figures.current); }},
};
// clang-format on

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
            view.is_traced = view.component->infeed_count > 0;
        }
        if (view.is_traced) {
            view.cover = judge.covers().of(id);
        }
        fill(writer.row(), fields, view);
        writer.write({line_of(id)});
        m_progress.step(s);
    }
}

} // namespace loopwalk::output
