#include "loopwalk/base/error.hpp"
#include "loopwalk/model/names.hpp"

#include "fields.hpp"
#include "writer.hpp"
#include <array>

namespace loopwalk::output {
namespace {

using figures::ColumnFigures;
using figures::FigureState;
using protection::Feed;
using protection::FeedBasis;
using protection::FeedKind;
using protection::Judgement;
using protection::Side;

/// A column with everything known about it.
struct ColumnView {
    const Writer& w;
    base::ColumnId id;
    const ColumnFigures& figures;
    const Judgement& judgement;
    Feed feed;
    const trace::Component* component; ///< null: not traced
    const checks::AssetStanding& standing;

    [[nodiscard]] bool has_path() const {
        return figures.state != FigureState::shorted && figures.state != FigureState::not_traced;
    }
};

std::string_view feed_name(FeedKind kind) {
    switch (kind) {
    case FeedKind::not_traced:
        return "not traced";
    case FeedKind::pillar:
        return "pillar";
    case FeedKind::main:
        return "main";
    case FeedKind::column:
        return "column";
    case FeedKind::several:
        return "several";
    }
    return "";
}

std::string_view basis_name(FeedBasis basis) {
    switch (basis) {
    case FeedBasis::none:
        return "";
    case FeedBasis::traced:
        return "traced";
    case FeedBasis::stated:
        return "stated";
    case FeedBasis::nearest_main:
        return "nearest main";
    }
    return "";
}

std::string upstream_name(const ColumnView& v) {
    if (!v.has_path() || !v.figures.upstream.is_valid()) {
        return {};
    }
    const network::Node& node = v.w.net.snapped.nodes[v.figures.upstream.index()];
    if (node.kind != network::NodeKind::derived) {
        return v.w.node_name(v.figures.upstream);
    }
    const auto main = v.w.net.main_of(v.figures.infeed);
    LW_ASSERT(main.has_value()); // a derived node starts a path only where its cable ends on a main
    return v.w.layers.id_text(v.w.layers.mains[main->index()].id);
}

std::string_view state_name(const ColumnView& v, const Side& side) {
    return v.component == nullptr ? std::string_view{} : protection::clear_state_name(side.state);
}

std::string main_name(const ColumnView& v) {
    if (!v.has_path()) {
        return {};
    }
    const base::MainId main = v.w.results.figures.main_of(v.w.net, v.figures.infeed).main;
    return main.is_valid() ? v.w.layers.id_text(v.w.layers.mains[main.index()].id) : std::string{};
}

std::string substation_name(const ColumnView& v) {
    if (!v.has_path()) {
        return {};
    }
    const base::SupplyId supply = v.w.results.figures.main_of(v.w.net, v.figures.infeed).substation;
    return supply.is_valid() ? v.w.layers.id_text(v.w.layers.supplies[supply.index()].id)
                             : std::string{};
}

// clang-format off: one field a line
constexpr std::array kColumnFields = {
    Field<ColumnView>{"lw_id", kText, [](Cell c, const ColumnView& v) {
        c.set(v.w.layers.text.view(v.w.layers.columns[v.id.index()].id)); }},
    Field<ColumnView>{"lw_feed", kText, [](Cell c, const ColumnView& v) {
        c.set(feed_name(v.feed.kind)); }},
    Field<ColumnView>{"lw_feed_basis", kText, [](Cell c, const ColumnView& v) {
        c.set(basis_name(v.feed.basis)); }},
    Field<ColumnView>{"lw_supply_id", kText, [](Cell c, const ColumnView& v) {
        c.set(v.component == nullptr ? std::string{} : v.w.supply_of(*v.component)); }},
    Field<ColumnView>{"lw_way", kText, [](Cell c, const ColumnView& v) {
        c.set(v.component == nullptr ? std::string{} : v.w.way_of(*v.component)); }},
    Field<ColumnView>{"lw_upstream_id", kText, [](Cell c, const ColumnView& v) {
        c.set(upstream_name(v)); }},
    Field<ColumnView>{"lw_hops", kInteger, [](Cell c, const ColumnView& v) {
        if (v.has_path()) { c.set(std::int64_t{v.figures.hops}); } }},
    Field<ColumnView>{"lw_run_m", kReal, [](Cell c, const ColumnView& v) {
        if (v.has_path()) { c.set(v.figures.run); } }},
    Field<ColumnView>{"lw_zs_low_ohm", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.judgement.zs_low); }},
    Field<ColumnView>{"lw_zs_high_ohm", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.judgement.zs_high); }},
    Field<ColumnView>{"lw_zs_20c_low_ohm", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.figures.z20_low); }},
    Field<ColumnView>{"lw_zs_20c_high_ohm", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.figures.z20_high); }},
    Field<ColumnView>{"lw_ief_min_a", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.judgement.ief_min); }},
    Field<ColumnView>{"lw_pscc_max_ka", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.figures.pscc_high_ka); }},
    Field<ColumnView>{"lw_in_device", kText, [](Cell c, const ColumnView& v) {
        c.set(v.w.explain.device_name(v.id, v.judgement.in)); }},
    Field<ColumnView>{"lw_in_state", kText, [](Cell c, const ColumnView& v) {
        c.set(state_name(v, v.judgement.in)); }},
    Field<ColumnView>{"lw_in_clear_s", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.judgement.in.clear); }},
    Field<ColumnView>{"lw_in_limit_s", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.judgement.in.limit); }},
    Field<ColumnView>{"lw_in_zs_limit_ohm", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.judgement.in.zs_limit); }},
    Field<ColumnView>{"lw_in_margin", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.judgement.in.margin); }},
    Field<ColumnView>{"lw_in_verdict", kText, [](Cell c, const ColumnView& v) {
        c.set(protection::verdict_name(v.judgement.in.verdict)); }},
    Field<ColumnView>{"lw_out_zs_high_ohm", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.judgement.out.zs_high); }},
    Field<ColumnView>{"lw_out_device", kText, [](Cell c, const ColumnView& v) {
        c.set(v.w.explain.device_name(v.id, v.judgement.out)); }},
    Field<ColumnView>{"lw_out_state", kText, [](Cell c, const ColumnView& v) {
        c.set(state_name(v, v.judgement.out)); }},
    Field<ColumnView>{"lw_out_clear_s", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.judgement.out.clear); }},
    Field<ColumnView>{"lw_out_limit_s", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.judgement.out.limit); }},
    Field<ColumnView>{"lw_out_zs_limit_ohm", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.judgement.out.zs_limit); }},
    Field<ColumnView>{"lw_out_margin", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.judgement.out.margin); }},
    Field<ColumnView>{"lw_out_verdict", kText, [](Cell c, const ColumnView& v) {
        c.set(protection::verdict_name(v.judgement.out.verdict)); }},
    Field<ColumnView>{"lw_breaking_verdict", kText, [](Cell c, const ColumnView& v) {
        c.set(protection::verdict_name(v.judgement.breaking)); }},
    Field<ColumnView>{"lw_heat_verdict", kText, [](Cell c, const ColumnView& v) {
        c.set(protection::verdict_name(v.judgement.heat)); }},
    Field<ColumnView>{"lw_vdrop_low_pct", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.figures.vdrop_low_pct); }},
    Field<ColumnView>{"lw_vdrop_high_pct", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.figures.vdrop_high_pct); }},
    Field<ColumnView>{"lw_vdrop_verdict", kText, [](Cell c, const ColumnView& v) {
        c.set(protection::verdict_name(v.judgement.vdrop)); }},
    Field<ColumnView>{"lw_fuse_max_a", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.judgement.fuse_max); }},
    Field<ColumnView>{"lw_fuse_min_a", kReal, [](Cell c, const ColumnView& v) {
        c.set(v.judgement.fuse_min); }},
    Field<ColumnView>{"lw_basis", kText, [](Cell c, const ColumnView& v) {
        if (v.judgement.basis.has_value()) { c.set(model::basis_name(*v.judgement.basis)); } }},
    Field<ColumnView>{"lw_verdict", kText, [](Cell c, const ColumnView& v) {
        c.set(protection::verdict_name(v.judgement.overall)); }},
    Field<ColumnView>{"lw_why", kText, [](Cell c, const ColumnView& v) {
        c.set(std::string_view(with_worst(v.standing, v.judgement.overall,
                                          v.w.explain.column(v.id, v.judgement)))); }},
    Field<ColumnView>{"lw_main_id", kText, [](Cell c, const ColumnView& v) {
        c.set(std::string_view(main_name(v))); }},
    Field<ColumnView>{"lw_substation_id", kText, [](Cell c, const ColumnView& v) {
        c.set(std::string_view(substation_name(v))); }},
    worst_field<ColumnView>(),
    worst_rule_field<ColumnView>(),
    findings_field<ColumnView>(),
};
// clang-format on

} // namespace

void Writer::copy_columns() {
    const std::span<const Field<ColumnView>> fields(kColumnFields);
    AssetCopy copy(m_source, m_out, results.read, base::AssetLayer::columns, declared(fields));
    m_progress.stage("write columns", copy.count());
    for (std::size_t n = 0; copy.next(); ++n) {
        const base::ColumnId id(copy.position());
        const Judgement judgement = judge.column(id);
        const ColumnView view{*this,
                              id,
                              results.figures.columns[id.index()],
                              judgement,
                              judge.feeds().of(id),
                              trace::fed_component(net, results.trace, id),
                              results.standing.columns[id.index()]};
        fill(copy.row(), fields, view);
        copy.write();
        m_progress.step(n);
    }
}

} // namespace loopwalk::output
