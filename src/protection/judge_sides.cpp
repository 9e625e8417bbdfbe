// The two sides of a cut-out: a fault on its incoming cable, and one at the lantern end of the
// tail.
#include "loopwalk/base/error.hpp"
#include "loopwalk/protection/judge.hpp"

#include <algorithm>

namespace loopwalk::protection {

using figures::FigureState;
using figures::is_hand_held_use;
using impedance::Conductors;
using impedance::EarthPathState;
using impedance::loop_impedance;
using impedance::tail_length;
using solution::Missing;

namespace {

using base::AssetLayer;
using base::Bounds;
using base::Maybe;
using base::Metre;
using base::Number;
using base::Ohm;
using base::Second;
using model::FuseRecord;

/// What BS 7671 table 41.1 asks where a person may hold what is plugged in: 0.4 s TN, 0.2 s TT.
constexpr Second kSocketLimitTn{0.4};
constexpr Second kSocketLimitTt{0.2};

/// Touch voltage limit for an RCD with its electrode: Ra * Idn <= 50 V (BS 7671 reg 411.5.3).
constexpr double kTouchVolts = 50.0;

/// Of two sides, the one to report: worse verdict, then smaller margin.
bool is_worse(const Side& a, const Side& b) {
    if (a.verdict != b.verdict) {
        return a.verdict < b.verdict;
    }
    return a.margin.has_value() && b.margin.has_value() && *a.margin < *b.margin;
}

} // namespace

struct Judge::SideInput {
    const DeviceChoices& device;
    const Source& source;
    EarthPathState earth;
    bool side_missing;
    Complex low, high; ///< loop without the source
    Second limit;
};

namespace {

Reason why_open(const DeviceChoices& device, EarthPathState earth, const LimitCurrents& currents,
                const Source& source) {
    if (earth == EarthPathState::unknown) {
        return Reason::earth_unknown;
    }
    if (device.type_missing) {
        return Reason::type_missing;
    }
    if (device.curve_missing) {
        return Reason::curve_missing;
    }
    if (!currents.surely.has_value()) {
        return Reason::limit_not_in_table;
    }
    return source.ze_missing ? Reason::ze_missing : Reason::bounds_straddle;
}

} // namespace

/// Loop, time and margin of a side, before any verdict.
Side Judge::measure_side(const SideInput& in, const LimitCurrents& currents) const {
    Side side;
    side.limit = in.limit;
    const base::Volt u = in.source.u0 * m_rules.cmin;
    if (currents.surely.has_value()) {
        side.zs_limit = u / *currents.surely;
    }
    if (in.source.has_ze && in.earth != EarthPathState::broken) {
        side.zs_low = loop_impedance(in.source, in.source.ze.low, in.low);
    }
    if (!in.source.has_ze || in.earth != EarthPathState::intact) {
        return side;
    }
    side.zs_high = loop_impedance(in.source, in.source.ze.high, in.high);
    if (side.zs_limit.has_value()) {
        side.margin = Number(*side.zs_limit / *side.zs_high);
    }
    if (in.device.any_of.empty()) {
        return side;
    }
    const auto time = longest_time(in.device, u / *side.zs_high);
    side.state = ClearState::not_within_table;
    if (time.state == catalogue::TimeState::clears) {
        side.state = ClearState::clears;
        side.clear = time.time;
    }
    return side;
}

Side Judge::judge_side(const SideInput& in) const {
    const LimitCurrents currents = limit_currents(in.device, in.limit);
    Side side = measure_side(in, currents);
    side.verdict = Verdict::undecided;
    if (in.earth == EarthPathState::broken) {
        side.verdict = Verdict::fails;
        side.reason = Reason::earth_broken;
    } else if (in.device.any_of.empty()) {
        side.reason = Reason::rating_missing;
    } else if (!in.source.has_ze) {
        side.reason = Reason::ze_missing;
    } else if (in.side_missing) {
        side.reason = Reason::side_missing;
    } else if (currents.possibly.has_value() &&
               *side.zs_low > in.source.u0 * m_rules.cmin / *currents.possibly) {
        side.verdict = Verdict::fails;
        side.reason = Reason::too_slow;
    } else if (side.margin.has_value() && *side.zs_high <= *side.zs_limit) {
        const bool assumed = in.source.ze_basis == model::Basis::assumed &&
                             m_rules.assumed_source == config::AssumedSource::undecided;
        side.verdict = assumed ? Verdict::undecided : Verdict::meets;
        side.reason = assumed ? Reason::assumed_source : Reason::none;
    } else {
        side.reason = why_open(in.device, in.earth, currents, in.source);
    }
    return side;
}

Side Judge::judge_tt(ColumnId id, Maybe<Number> rcd_ma, Second limit) const {
    Side side;
    side.limit = limit;
    side.is_rcd = true;
    side.verdict = Verdict::undecided;
    const model::Column& column = m_layers.columns[id.index()];
    if (!rcd_ma.has_value()) {
        side.reason = Reason::tt_rcd_missing;
    } else if ((*rcd_ma).value() == 0.0) {
        side.verdict = Verdict::fails;
        side.reason = Reason::tt_without_rcd;
    } else if (!column.electrode.has_value()) {
        side.reason = Reason::tt_electrode_missing;
    } else {
        const Ohm limit_ohm(kTouchVolts / ((*rcd_ma).value() / 1000.0));
        side.zs_limit = limit_ohm;
        side.margin = Number(limit_ohm / *column.electrode);
        const bool meets = *column.electrode <= limit_ohm;
        side.verdict = meets ? Verdict::meets : Verdict::fails;
        side.reason = meets ? Reason::none : Reason::too_slow;
    }
    return side;
}

Maybe<Number> Judge::way_rcd(ColumnId id) const {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    if (!figures.nearest_way.is_valid()) {
        return {}; // straight off a main
    }
    const network::Way& way = m_net.ways[figures.nearest_way.index()];
    if (way.row.is_valid() && m_layers.ways[way.row.index()].rcd_ma.has_value()) {
        return m_layers.ways[way.row.index()].rcd_ma;
    }
    return m_layers.supplies[way.supply.index()].rcd_ma;
}

Side Judge::judge_in(ColumnId id, const Suppose& what) {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    const Source& from = what.source != nullptr ? *what.source : *source(figures);
    if (is_distributors(figures.device) || is_on_main(figures)) {
        Side side;
        side.device = figures.device;
        side.verdict = Verdict::not_ours;
        return side;
    }
    Side side;
    if (is_tt(id)) {
        side = judge_tt(id, way_rcd(id), in_limit(id));
    } else if (figures.is_multi_fed) {
        side = judge_fed(m_figures.fed.at(id), in_limit(id));
    } else if (!figures.device.is_valid()) {
        side.limit = in_limit(id);
        side.verdict = Verdict::undecided;
        side.reason = Reason::no_device;
    } else {
        side =
            judge_side({what.device != nullptr ? *what.device : choices(figures.device), from,
                        figures.earth, figures.missing.has(Missing::termination_side),
                        figures.loop_low + what.low, figures.loop_high + what.high, in_limit(id)});
    }
    side.device = figures.device;
    return side;
}

bool Judge::can_suppose(ColumnId id) const {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    return figures.state == FigureState::computed && !figures.is_multi_fed && !is_tt(id) &&
           figures.earth == EarthPathState::intact && source(figures) != nullptr;
}

SideVerdicts Judge::sides_if(ColumnId id, const Suppose& what) {
    const Side in = judge_in(id, what);
    return {in.verdict, judge_out(id, in, what).verdict};
}

Complex Judge::tail_loop_if(ColumnId id, std::optional<base::CableTypeId> type,
                            Metre length) const {
    const auto& recorded = m_layers.columns[id.index()].tail_type.type;
    LW_ASSERT(type.has_value() || recorded.is_valid());
    const CablePerKm& tail = m_tails[type.value_or(recorded).index()];
    return (tail.z.hot_high.line + tail.z.hot_high.earth) * (length.value() / 1000.0);
}

Judge::TailLoop Judge::tail_loop(ColumnId id) const {
    const model::Column& column = m_layers.columns[id.index()];
    const CablePerKm& tail = column.tail_type.type.is_valid()
                                 ? m_tails[column.tail_type.type.index()]
                                 : m_assumptions.missing_tail;
    const Bounds<Metre> length = tail_length(column, m_assumptions, m_rules);
    const auto loop = [](const Conductors& c) { return c.line + c.earth; };
    return {loop(tail.z.hot_low) * (length.low.value() / 1000.0),
            loop(tail.z.hot_high) * (length.high.value() / 1000.0)};
}

/// Loop at the lantern end: line and protective conductor of the tail added (hot).
Judge::TailLoop Judge::with_tail(ColumnId id) const {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    const TailLoop tail = tail_loop(id);
    return {figures.loop_low + tail.low, figures.loop_high + tail.high};
}

Second Judge::out_limit(ColumnId id, const model::Load* load) const {
    const model::Column& column = m_layers.columns[id.index()];
    if (load != nullptr && load->limit.has_value()) {
        return *load->limit;
    }
    if (load != nullptr && is_hand_held_use(m_layers.text.view(load->use))) {
        return is_tt(id) ? kSocketLimitTt : kSocketLimitTn;
    }
    return column.limit.value_or(m_rules.cut_out_disconnection);
}

namespace {
constexpr std::uint32_t kOwnAttributes = 0xffffffffU;
} // namespace

/// A fault at the lantern end of the tail, cleared by the cut-out's fuse, or where that is a link
/// by what protects the incoming side. `layer`: whose record the fuse is.
Judge::SideInput Judge::lantern_input(ColumnId id, const FuseRecord& fuse, AssetLayer layer,
                                      Second limit, const Suppose& what) {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    const bool upstream = fuse.word == FuseRecord::Word::none;
    const DeviceChoices* device = upstream ? what.device : what.own;
    if (device == nullptr || (!upstream && layer == AssetLayer::loads)) {
        device = upstream ? &choices(figures.device) : &m_book.of(fuse, layer);
    }
    const TailLoop loop = with_tail(id);
    return {*device,
            what.source != nullptr ? *what.source : *source(figures),
            figures.earth,
            upstream && figures.missing.has(Missing::termination_side),
            loop.low + what.low + what.tail_low,
            loop.high + what.high + what.tail_high,
            limit};
}

Side Judge::judge_load(ColumnId id, const Side& in, std::uint32_t row, const Suppose& what) {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    const model::Column& column = m_layers.columns[id.index()];
    const model::Load* load = row == kOwnAttributes ? nullptr : &m_layers.loads[row];
    const bool own_row = load != nullptr && !load->fuse.is_absent();
    const FuseRecord& fuse = own_row ? load->fuse : column.fuse;
    const Second limit = out_limit(id, load);
    Side side;
    if (is_tt(id)) {
        Maybe<Number> rcd = load != nullptr ? load->rcd_ma : Maybe<Number>{};
        rcd = rcd.has_value() ? rcd : column.rcd_ma;
        side = judge_tt(id, rcd.has_value() ? rcd : way_rcd(id), limit);
    } else if (fuse.word == FuseRecord::Word::none && figures.is_multi_fed) {
        FedPoint place = m_figures.fed.at(id);
        const TailLoop loop = with_tail(id);
        place.point.beyond_low += loop.low - figures.loop_low;
        place.point.beyond_high += loop.high - figures.loop_high;
        side = judge_fed(place, limit);
    } else if (fuse.word == FuseRecord::Word::none && in.verdict == Verdict::not_ours) {
        side.verdict = Verdict::not_ours;
    } else if (fuse.word == FuseRecord::Word::none && !figures.device.is_valid()) {
        side.limit = limit;
        side.verdict = Verdict::undecided;
        side.reason = Reason::no_device;
    } else {
        side = judge_side(lantern_input(id, fuse, own_row ? AssetLayer::loads : AssetLayer::columns,
                                        limit, what));
    }
    side.own_fuse = fuse.word != FuseRecord::Word::none;
    side.device = side.own_fuse ? DeviceId{} : figures.device;
    side.load_row = row;
    return side;
}

Side Judge::judge_out(ColumnId id, const Side& in, const Suppose& what) {
    const auto rows = m_loads.rows(id);
    if (rows.empty()) {
        return judge_load(id, in, kOwnAttributes, what);
    }
    Side worst = judge_load(id, in, rows[0], what);
    for (const std::uint32_t row : rows.subspan(1)) {
        const Side side = judge_load(id, in, row, what);
        if (is_worse(side, worst)) {
            worst = side;
        }
    }
    return worst;
}

/// A reading that breaks the limit makes that side fail whatever is predicted; a low one proves
/// nothing. What is over the limit at the cut-out is so at the lantern too; where the place is
/// unknown, only what no place would excuse counts.
void Judge::apply_readings(ColumnId id, Side& in, Side& out) const {
    for (Side* side : {&in, &out}) {
        side->predicted = side->verdict;
        side->predicted_reason = side->reason;
    }
    const auto fail = [](Side& side) {
        side.is_reading_over = true;
        if (side.verdict != Verdict::fails) {
            side.verdict = Verdict::fails;
            side.reason = Reason::reading_over;
        }
    };
    for (const std::uint32_t r : readings(id)) {
        const model::Reading& row = m_layers.readings[r];
        if (!row.zs.has_value()) {
            continue;
        }
        const bool over_in = in.zs_limit.has_value() && !in.is_rcd && *row.zs > *in.zs_limit;
        const bool over_out = out.zs_limit.has_value() && !out.is_rcd && *row.zs > *out.zs_limit;
        const bool at_lantern = row.taken_at == model::TakenAt::lantern;
        const bool anywhere = row.taken_at == model::TakenAt::unknown;
        if (over_in && !at_lantern && (!anywhere || over_out || !out.zs_limit.has_value())) {
            fail(in);
        }
        if (over_out) {
            fail(out);
        }
    }
}

} // namespace loopwalk::protection
