#include "loopwalk/protection/judge.hpp"

#include <algorithm>

namespace loopwalk::protection {

using base::Ampere;
using base::AssetLayer;
using base::Maybe;
using figures::ColumnFigures;
using figures::FigureState;
using figures::SectionFigures;
using impedance::EarthPathState;
using impedance::loop_impedance;
using impedance::Source;
using solution::MultiFeed;

namespace {

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

/// Whether a device could go where another one is, as far as the sizes of both are known.
bool fits_holder(const DeviceChoice& device, const DeviceChoice& fitted) {
    return device.holder.empty() || fitted.holder.empty() || device.holder == fitted.holder;
}

void leave_open(Verdict& verdict, Reason& reason, Reason why) {
    if (verdict == Verdict::meets) {
        verdict = Verdict::undecided;
        reason = why;
    }
}

/// Nothing is predicted to meet a limit over a path that may not be in service, or may join two
/// phases. Breaking capacity stands as it is: with all of it in service the current is largest.
void leave_open(Judgement& judgement, Reason why) {
    leave_open(judgement.in.verdict, judgement.in.reason, why);
    leave_open(judgement.in.predicted, judgement.in.predicted_reason, why);
    leave_open(judgement.out.verdict, judgement.out.reason, why);
    leave_open(judgement.out.predicted, judgement.out.predicted_reason, why);
    leave_open(judgement.heat, judgement.heat_check.reason, why);
    judgement.vdrop = judgement.vdrop == Verdict::meets ? Verdict::undecided : judgement.vdrop;
}

} // namespace

Judge::Judge(const figures::Inputs& inputs, const figures::Figures& figures)
    : m_layers(inputs.layers), m_rules(inputs.job.rules), m_figures(figures),
      m_facts(inputs, figures), m_devices(inputs), m_feeds(inputs, figures), m_cables(inputs),
      m_readings(inputs.layers, inputs.job.rules), m_loads(inputs.layers, inputs.assumptions),
      m_sequences(inputs, figures, m_facts, m_devices),
      m_sides(inputs, figures, m_facts, m_devices, m_cables, m_loads, m_sequences),
      m_breaking(inputs, figures, m_facts, m_devices, m_loads, m_readings),
      m_heat(inputs, figures, m_facts, m_devices, m_cables, m_sequences, m_breaking),
      m_covers(inputs, figures, m_facts, m_devices, m_sequences) {}

Judgement Judge::column(ColumnId id) {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    Judgement judgement;
    if (!has_figures(figures.state)) {
        const bool theirs = m_layers.columns[id.index()].owner == model::Owner::distributor &&
                            m_feeds.of(id).basis == FeedBasis::stated;
        judgement.overall =
            without_figures(figures.state, theirs ? Verdict::not_ours : Verdict::not_traced);
        if (figures.state == FigureState::from_main &&
            m_facts.owner_of_path(id) == model::Owner::council) {
            judgement.in.verdict = judgement.overall = Verdict::undecided;
            judgement.in.reason = Reason::main_fuse_missing;
        }
        return judgement;
    }
    fill_loop(id, judgement);
    judgement.in = m_sides.incoming(id);
    judgement.out = m_sides.beyond(id, judgement.in);
    m_readings.apply(id, test_path(id), judgement.in, judgement.out);
    leave_open_beyond_readings(id, judgement);
    const CutOutBreaking breaking = m_breaking.of_column(id);
    judgement.breaking = breaking.verdict;
    judgement.breaking_reason = breaking.reason;
    judgement.breaking_ka = breaking.device_ka;
    if (const auto heat = m_heat.of_column(id)) {
        judgement.heat = heat->verdict;
        judgement.heat_check = *heat;
    }
    judgement.vdrop = volt_drop(figures);
    find_fuse_sizes(id, judgement);
    if (figures.missing.has(solution::Missing::status)) {
        leave_open(judgement, Reason::status_unclear);
    }
    if (figures.are_phases_unclear) {
        leave_open(judgement, Reason::phases_unclear);
    }
    judgement.overall = worse(worse(judgement.in.verdict, judgement.out.verdict),
                              worse(judgement.breaking, judgement.heat));
    const Source& from = *m_facts.source(figures);
    if (!m_facts.is_tt(id)) { // an RCD is judged by electrodes on record
        judgement.basis = from.ze_basis;
    }
    if (judgement.breaking != Verdict::none) {
        judgement.basis = std::max(judgement.basis.value_or(from.pscc_basis), from.pscc_basis);
    }
    return judgement;
}

base::Ohm Judge::tail_ohms(ColumnId id) const {
    return base::Ohm(std::abs(m_cables.tail_loop(id).high));
}

TestPath Judge::test_path(ColumnId id) const {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    TestPath path{tail_ohms(id), {}};
    Judgement warm;
    fill_loop(id, warm);
    const bool is_known = figures.state == FigureState::computed && figures.missing.count == 0 &&
                          !figures.is_multi_fed && warm.zs_low.has_value() &&
                          warm.zs_high.has_value() && *warm.zs_low == *warm.zs_high;
    if (is_known && figures.z20_high.has_value() && !m_facts.is_tt(id)) {
        path.warming = Warming{*warm.zs_high - *figures.z20_high, *figures.z20_high};
    }
    return path;
}

/// The device whose limit a reading breaks on the incoming side of a column; none where none does.
std::optional<DeviceId> Judge::broken_by_reading(ColumnId id) {
    if (!has_figures(m_figures.columns[id.index()].state)) {
        return std::nullopt;
    }
    const auto [at, is_new] = m_broken.try_emplace(id);
    if (is_new) {
        Side in = m_sides.incoming(id);
        Side out = m_sides.beyond(id, in);
        m_readings.apply(id, test_path(id), in, out);
        if (in.is_reading_over && in.device.is_valid()) {
            at->second = in.device;
        }
    }
    return at->second;
}

/// What makes a reading too high may lie before its column: those beyond it behind the same device
/// share it.
void Judge::leave_open_beyond_readings(ColumnId id, Judgement& judgement) {
    if (m_readings.columns().empty()) {
        return;
    }
    for (Side* side : {&judgement.in, &judgement.out}) {
        if (side->verdict != Verdict::meets || !side->device.is_valid()) {
            continue;
        }
        const bool is_shared = m_facts.any_column_before(id, [&](ColumnId before) {
            return !m_readings.of(before).empty() && broken_by_reading(before) == side->device;
        });
        if (is_shared) {
            side->verdict = Verdict::undecided;
            side->reason = Reason::reading_before;
        }
    }
}

void Judge::fill_loop(ColumnId id, Judgement& judgement) const {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    const Source& from = *m_facts.source(figures);
    if (m_facts.is_tt(id)) {
        fill_tt_loop(id, judgement);
        return;
    }
    if (!from.has_ze || figures.has_unknown_source) {
        return;
    }
    if (figures.is_multi_fed) {
        const MultiFeed::Loop loop = m_sequences.loop(m_figures.fed.at(id));
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

/// Electrode of the source, line, and what earths the column.
void Judge::fill_tt_loop(ColumnId id, Judgement& judgement) const {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    const Source& from = *m_facts.source(figures);
    const figures::TtEarth earth = m_facts.tt_earth(id);
    const base::SectionId last = m_facts.section_to(figures.vertex);
    if (!last.is_valid()) {
        return;
    }
    const base::Bounds<base::Ohm> at_source = figures::source_electrode(from, m_rules);
    const SectionFigures& section = m_figures.sections[last.index()];
    if (earth.low.has_value()) {
        judgement.zs_low = at_source.low + section.line_low + *earth.low;
    }
    if (earth.high.has_value()) {
        judgement.zs_high = at_source.high + section.line_high + *earth.high;
        judgement.ief_min = from.u0 * m_rules.cmin / *judgement.zs_high;
    }
}

Verdict Judge::volt_drop(const ColumnFigures& figures) const {
    if (!figures.vdrop_high_pct.has_value()) {
        return Verdict::none;
    }
    if ((*figures.vdrop_high_pct).value() <= m_rules.vdrop_pct) {
        return Verdict::meets;
    }
    const bool is_sure =
        figures.vdrop_low_pct.has_value() && (*figures.vdrop_low_pct).value() > m_rules.vdrop_pct;
    return is_sure ? Verdict::fails : Verdict::undecided;
}

/// The largest rating of the incoming device's type that clears here within limit, cable and heat,
/// and the smallest that carries the load of the way. Neither is an instruction to fit.
void Judge::find_fuse_sizes(ColumnId id, Judgement& judgement) {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    const Side& in = judgement.in;
    if (!in.device.is_valid() || m_devices.is_distributors(in.device) || in.is_rcd ||
        in.verdict == Verdict::undecided || !in.zs_worst().has_value()) {
        return;
    }
    const DeviceChoices& device = m_devices.choices(in.device);
    if (device.any_of.size() != 1) {
        return;
    }
    const Ampere smallest_fault = m_facts.source(figures)->u0 * m_rules.cmin / *in.zs_worst();
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
        const DeviceChoice& larger = candidate.any_of[0];
        if (fits_holder(larger, device.any_of[0]) &&
            larger.rating <= *figures.ampacity * larger.overload_factor.low.value() &&
            m_heat.path_survives(id, candidate)) {
            judgement.fuse_max = rating->rating;
        }
    }
}

} // namespace loopwalk::protection
