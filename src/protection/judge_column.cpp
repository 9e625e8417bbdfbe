// Everything about one column put together.
#include "loopwalk/protection/judge.hpp"

#include <algorithm>
#include <limits>

namespace loopwalk::protection {

using figures::FigureState;
using figures::has_figures;
using impedance::EarthPathState;
using impedance::loop_impedance;

namespace {

using base::Ampere;
using base::AssetLayer;
using base::Maybe;
using base::Number;
using model::Basis;
using model::FuseRecord;

Verdict without_figures(FigureState state, Verdict untraced) {
    switch (state) {
    case FigureState::not_traced:
        return untraced;
    case FigureState::shorted:
        return Verdict::undecided;
    case FigureState::from_main:
        return Verdict::not_ours;
    case FigureState::computed:
    case FigureState::several:
        break;
    }
    return Verdict::none;
}

constexpr double kUnbounded = std::numeric_limits<double>::max();

} // namespace

Judgement Judge::column(ColumnId id) {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    Judgement judgement;
    if (!has_figures(figures.state)) {
        const bool theirs = m_layers.columns[id.index()].owner == model::Owner::distributor &&
                            feed(id).basis == FeedBasis::stated;
        judgement.overall =
            without_figures(figures.state, theirs ? Verdict::not_ours : Verdict::not_traced);
        return judgement;
    }
    fill_loop(id, judgement);
    judgement.in = judge_in(id);
    judgement.out = judge_out(id, judgement.in);
    apply_readings(id, judgement.in, judgement.out);
    judge_breaking(id, judgement);
    judge_heat(id, judgement);
    judge_volt_drop(figures, judgement);
    find_fuse_sizes(id, judgement);
    judgement.overall = worse(worse(judgement.in.verdict, judgement.out.verdict),
                              worse(judgement.breaking, judgement.heat));
    const Source& from = *source(figures);
    judgement.basis = from.ze_basis;
    if (judgement.breaking != Verdict::none) {
        judgement.basis = std::max(from.ze_basis, from.pscc_basis);
    }
    return judgement;
}

void Judge::fill_loop(ColumnId id, Judgement& judgement) const {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    const Source& from = *source(figures);
    if (is_tt(id)) {
        fill_tt_loop(id, judgement);
        return;
    }
    if (!from.has_ze) {
        return;
    }
    if (figures.is_multi_fed) {
        const MultiFeed::Loop loop = fed_loop(m_figures.fed.at(id));
        judgement.zs_low = loop.zs_low;
        judgement.zs_high = loop.zs_high;
        if (loop.zs_high.has_value()) {
            judgement.ief_min = loop.u0 * m_rules.cmin / *loop.zs_high;
        }
        return;
    }
    if (figures.earth != EarthPathState::broken) {
        judgement.zs_low = loop_impedance(from, from.ze.low, figures.loop_low);
    }
    if (figures.earth == EarthPathState::intact) {
        judgement.zs_high = loop_impedance(from, from.ze.high, figures.loop_high);
        judgement.ief_min = from.u0 * m_rules.cmin / *judgement.zs_high;
    }
}

/// Electrode of the source, line and the column's own electrode. On a TN supply the source's
/// electrode is not recorded: it takes the range of a TT source.
void Judge::fill_tt_loop(ColumnId id, Judgement& judgement) const {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    const Source& from = *source(figures);
    const auto& electrode = m_layers.columns[id.index()].electrode;
    const base::SectionId last = section_to(figures.vertex);
    if (!electrode.has_value() || !last.is_valid()) {
        return;
    }
    const base::Bounds<base::Ohm> at_source =
        from.is_tt ? from.ze : base::Bounds<base::Ohm>{base::Ohm(0.0), m_rules.ze_high_tt};
    const SectionFigures& section = m_figures.sections[last.index()];
    judgement.zs_low = at_source.low + section.line_low + *electrode;
    judgement.zs_high = at_source.high + section.line_high + *electrode;
    judgement.ief_min = from.u0 * m_rules.cmin / *judgement.zs_high;
}

/// The cut-out's fuses against the largest current that reaches the column.
void Judge::judge_breaking(ColumnId id, Judgement& judgement) {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    const model::Column& column = m_layers.columns[id.index()];
    const Source& from = *source(figures);
    double lowest = kUnbounded;
    double highest = kUnbounded; // of the weakest fuse, at its best
    bool known = true;
    bool any = false;
    const auto consider = [&](const FuseRecord& fuse, AssetLayer layer) {
        if (fuse.word == FuseRecord::Word::none) {
            return;
        }
        any = true;
        if (column.breaking_ka.has_value() && layer == AssetLayer::columns) {
            lowest = std::min(lowest, (*column.breaking_ka).value());
            highest = std::min(highest, (*column.breaking_ka).value());
            return;
        }
        const BreakingRange range = breaking_range(m_book.of(fuse, layer));
        known = known && range.is_known;
        lowest = std::min(lowest, range.lowest);
        highest = std::min(highest, range.highest);
    };
    consider(column.fuse, AssetLayer::columns);
    for (const std::uint32_t row : m_loads.rows(id)) {
        if (!m_layers.loads[row].fuse.is_absent()) {
            consider(m_layers.loads[row].fuse, AssetLayer::loads);
        }
    }
    if (!any) {
        return;
    }
    judgement.breaking = Verdict::undecided;
    judgement.breaking_reason = Reason::breaking_missing;
    if (known) {
        judgement.breaking_ka = Number(lowest);
    }
    if (figures.pscc_low_ka.has_value() && !from.pscc_missing &&
        !can_break(highest, (*figures.pscc_low_ka).value())) {
        judgement.breaking = Verdict::fails;
        judgement.breaking_reason = Reason::breaking_too_low;
    } else if (known && figures.pscc_high_ka.has_value() &&
               can_break(lowest, (*figures.pscc_high_ka).value())) {
        const bool assumed = from.pscc_basis == Basis::assumed &&
                             m_rules.assumed_source == config::AssumedSource::undecided;
        judgement.breaking = assumed ? Verdict::undecided : Verdict::meets;
        judgement.breaking_reason = assumed ? Reason::assumed_source : Reason::none;
    } else if (known) {
        judgement.breaking_reason = Reason::bounds_straddle;
    }
}

void Judge::judge_volt_drop(const ColumnFigures& figures, Judgement& judgement) const {
    if (!figures.vdrop_high_pct.has_value()) {
        return;
    }
    if ((*figures.vdrop_high_pct).value() <= m_rules.vdrop_pct) {
        judgement.vdrop = Verdict::meets;
    } else if (figures.vdrop_low_pct.has_value() &&
               (*figures.vdrop_low_pct).value() > m_rules.vdrop_pct) {
        judgement.vdrop = Verdict::fails;
    } else {
        judgement.vdrop = Verdict::undecided;
    }
}

/// The largest rating of the incoming device's type that clears here within limit, cable and heat,
/// and the smallest that carries the load of the way. Neither is an instruction to fit.
void Judge::find_fuse_sizes(ColumnId id, Judgement& judgement) {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    const Side& in = judgement.in;
    if (!figures.device.is_valid() || is_distributors(figures.device) || in.is_rcd ||
        in.verdict == Verdict::undecided || !in.zs_high.has_value()) {
        return;
    }
    const DeviceChoices& device = choices(figures.device);
    if (device.any_of.size() != 1) {
        return;
    }
    const Ampere smallest_fault = source(figures)->u0 * m_rules.cmin / *in.zs_high;
    const auto& design = m_figures.infeeds[figures.infeed.index()].design_high;
    const catalogue::FuseType& type = *device.any_of[0].type;
    for (auto rating = type.ratings.rbegin(); rating != type.ratings.rend(); ++rating) {
        if (design.has_value() && rating->rating >= *design) {
            judgement.fuse_min = rating->rating;
        }
        if (judgement.fuse_max.has_value() || !figures.ampacity.has_value()) {
            continue;
        }
        const Maybe<Ampere> needed = catalogue::slow_current(rating->slow, *in.limit);
        if (!needed.has_value() || smallest_fault < *needed) {
            continue;
        }
        const DeviceChoices candidate{.any_of = {device_choice(type, rating->rating)}};
        if (rating->rating <= *figures.ampacity * overload_factor(candidate.any_of[0]) &&
            path_survives(id, candidate)) {
            judgement.fuse_max = rating->rating;
        }
    }
}

} // namespace loopwalk::protection
