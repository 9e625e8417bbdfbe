#include "loopwalk/protection/sides.hpp"

#include <algorithm>

namespace loopwalk::protection {

using base::AssetLayer;
using base::ColumnId;
using base::DeviceId;
using base::Maybe;
using base::Number;
using base::Ohm;
using base::Second;
using figures::ColumnFigures;
using figures::FedPoint;
using figures::FigureState;
using impedance::Complex;
using impedance::EarthPathState;
using impedance::loop_impedance;
using impedance::Source;
using model::FuseRecord;
using solution::Missing;

namespace {

constexpr std::uint32_t kOwnAttributes = 0xffffffffU;

/// Of two sides, the one to report: worse verdict, then smaller margin.
bool is_worse(const Side& a, const Side& b) {
    if (a.verdict != b.verdict) {
        return a.verdict < b.verdict;
    }
    return a.margin.has_value() && b.margin.has_value() && *a.margin < *b.margin;
}

} // namespace

struct Sides::Input {
    const DeviceChoices& device;
    const Source& source;
    EarthPathState earth;
    bool side_missing;
    bool has_ze;       ///< of every source that may feed it alone
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
    if (!currents.certain.has_value()) {
        return Reason::limit_not_in_table;
    }
    return source.ze_missing ? Reason::ze_missing : Reason::bounds_straddle;
}

} // namespace

/// Loop, time and margin of a side, before any verdict.
Side Sides::measure(const Input& in, const LimitCurrents& currents) const {
    Side side;
    side.limit = in.limit;
    const base::Volt u = in.source.u0 * m_rules.cmin;
    if (currents.certain.has_value()) {
        side.zs_limit = u / *currents.certain;
    }
    if (in.has_ze && in.earth != EarthPathState::broken) {
        side.zs_low = loop_impedance(in.source, in.source.ze.low, in.low);
    }
    if (!in.has_ze || in.earth != EarthPathState::intact) {
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

Side Sides::judge(const Input& in) const {
    const LimitCurrents currents = limit_currents(in.device, in.limit);
    Side side = measure(in, currents);
    side.verdict = Verdict::undecided;
    if (in.earth == EarthPathState::broken) {
        side.verdict = Verdict::fails;
        side.reason = Reason::earth_broken;
    } else if (in.device.any_of.empty()) {
        side.reason = Reason::rating_missing;
    } else if (!in.has_ze) {
        side.reason = Reason::ze_missing;
    } else if (in.side_missing) {
        side.reason = Reason::side_missing;
    } else if (currents.possible.has_value() &&
               *side.zs_low > in.source.u0 * m_rules.cmin / *currents.possible) {
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

Side Sides::judge_tt(ColumnId id, Maybe<Number> rcd_ma, Second limit) const {
    Side side;
    side.limit = limit;
    side.is_rcd = true;
    side.verdict = Verdict::undecided;
    if (const auto& own = m_layers.columns[id.index()].electrode;
        own.has_value() && *own > m_rules.electrode_steady) {
        side.unsteady_above = m_rules.electrode_steady;
    }
    if (!rcd_ma.has_value()) {
        side.reason = Reason::tt_rcd_missing;
    } else if ((*rcd_ma).value() == 0.0) {
        side.verdict = Verdict::fails;
        side.reason = Reason::tt_without_rcd;
    } else {
        judge_electrode(id, Ohm(m_rules.touch_voltage.value() / ((*rcd_ma).value() / 1000.0)),
                        side);
    }
    return side;
}

/// (Ra + R2) * Idn <= 50 V (BS 7671 reg 411.5.3); `most`: Ra + R2 that just holds.
void Sides::judge_electrode(ColumnId id, Ohm most, Side& side) const {
    const figures::TtEarthRecord record = m_facts.tt_record(id);
    const figures::TtEarth earth = figures::tt_earth(record);
    side.zs_limit = most;
    if (earth.high.has_value() && *earth.high > Ohm(0.0)) {
        side.margin = Number(most / *earth.high);
    }
    if (earth.high.has_value() && *earth.high <= most) {
        side.verdict = Verdict::meets;
    } else if (earth.low.has_value() && *earth.low > most) {
        side.verdict = Verdict::fails;
        side.reason = Reason::electrode_too_high;
    } else if (earth.high.has_value()) {
        side.reason = Reason::bounds_straddle;
    } else {
        side.reason = record.path == EarthPathState::unknown && record.pillar.has_value()
                          ? Reason::earth_unknown
                          : Reason::tt_electrode_missing;
    }
}

/// The incoming side behind a distributor's main fuse, where cable that may be the council's lies
/// between: judged by that fuse as recorded. What nobody recorded leaves it open; where the owner
/// alone is not known and it holds, or nothing is known of the fuse, it counts as the
/// distributor's.
Side Sides::behind_main_fuse(ColumnId id, model::Owner owner, const Suppose& what) {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    Side theirs;
    theirs.device = figures.device;
    theirs.verdict = Verdict::not_ours;
    const bool is_recorded =
        figures.device.is_valid() && !m_devices.choices(figures.device).any_of.empty();
    if (owner == model::Owner::distributor || (owner == model::Owner::unknown && !is_recorded)) {
        return theirs;
    }
    Side side = theirs;
    side.limit = m_facts.in_limit(id);
    side.verdict = Verdict::undecided;
    side.reason = Reason::main_fuse_missing;
    if (is_recorded) {
        side = judge(incoming_input(id, what));
        side.device = figures.device;
    }
    if (owner == model::Owner::unknown) {
        if (side.verdict == Verdict::meets) {
            return theirs;
        }
        side.verdict = Verdict::undecided;
        side.reason = Reason::owner_missing;
    }
    return side;
}

/// A fault on the incoming cable, cleared by the nearest device upstream.
Sides::Input Sides::incoming_input(ColumnId id, const Suppose& what) {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    const Source& from = what.source != nullptr ? *what.source : *m_facts.source(figures);
    return {what.device != nullptr ? *what.device : m_devices.choices(figures.device),
            from,
            figures.earth,
            figures.missing.has(Missing::termination_side),
            from.has_ze && !figures.has_unknown_source,
            figures.loop_low + what.low,
            figures.loop_high + what.high,
            m_facts.in_limit(id)};
}

Side Sides::incoming(ColumnId id, const Suppose& what) {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    if (m_devices.is_distributors(figures.device) || m_facts.is_on_main(figures)) {
        const bool has_electrode = m_facts.is_tt(id); // no fuse is asked to clear there
        return behind_main_fuse(
            id, has_electrode ? model::Owner::distributor : m_facts.owner_of_path(id), what);
    }
    Side side;
    if (m_facts.is_tt(id)) {
        side = judge_tt(id, m_facts.way_rcd(id), m_facts.in_limit(id));
    } else if (figures.is_multi_fed) {
        side = m_sequences.judge(m_figures.fed.at(id), m_facts.in_limit(id));
    } else if (!figures.device.is_valid()) {
        side.limit = m_facts.in_limit(id);
        side.verdict = Verdict::undecided;
        side.reason = Reason::no_device;
    } else {
        const Input input = incoming_input(id, what);
        side = judge(input);
        side.device = figures.device;
        return in_series(id, input, side, what);
    }
    side.device = figures.device;
    return side;
}

namespace {

/// Of two devices that the same current runs through, the one to name: what surely opens in time
/// before what may, the quicker of equals.
bool serves_better(const Side& a, const Side& b) {
    if (a.verdict != b.verdict) {
        return a.verdict > b.verdict; // meets, undecided, fails
    }
    const bool clears_a = a.clear.has_value();
    const bool clears_b = b.clear.has_value();
    return clears_a && (!clears_b || *a.clear < *b.clear);
}

} // namespace

/// A fault's current runs through every device between the source and the fault: the least of their
/// times counts, ties go to the nearest. `first`: the nearest, judged.
Side Sides::in_series(ColumnId id, const Input& nearest, Side first, const Suppose& what) {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    if (figures.is_multi_fed || m_facts.is_tt(id) || nearest.earth == EarthPathState::broken) {
        return first; // judged otherwise, or cured by no device
    }
    Side best = first;
    DeviceId device = first.own_fuse              ? figures.device
                      : figures.device.is_valid() ? m_devices.place(figures.device).upstream
                                                  : DeviceId{};
    for (; device.is_valid(); device = m_devices.place(device).upstream) {
        const bool is_recorded = !m_devices.choices(device).any_of.empty();
        if (is_recorded) {
            const bool is_supposed = what.device != nullptr && device == figures.device;
            Side side = judge({is_supposed ? *what.device : m_devices.choices(device),
                               nearest.source, nearest.earth, nearest.side_missing, nearest.has_ze,
                               nearest.low, nearest.high, nearest.limit});
            side.device = device;
            if (serves_better(side, best)) {
                side.load_row = first.load_row;
                side.is_beyond = first.is_beyond;
                best = side;
            }
        }
        if (!m_devices.place(device).is_reached) {
            break;
        }
    }
    return best;
}

bool Sides::can_suppose(ColumnId id) const {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    return figures.state == FigureState::computed && !figures.is_multi_fed && !m_facts.is_tt(id) &&
           figures.earth == EarthPathState::intact && !figures.missing.has(Missing::status) &&
           !figures.are_phases_unclear && m_facts.source(figures) != nullptr;
}

SideVerdicts Sides::verdicts_if(ColumnId id, const Suppose& what) {
    const Side in = incoming(id, what);
    return {in.verdict, beyond(id, in, what).verdict};
}

/// Loop at the lantern end: line and protective conductor of the tail added (hot).
TailLoop Sides::with_tail(ColumnId id) const {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    const TailLoop tail = m_cables.tail_loop(id);
    return {figures.loop_low + tail.low, figures.loop_high + tail.high};
}

/// A fault at the lantern end of the tail, cleared by the cut-out's fuse, or where that is a link
/// by what protects the incoming side. `layer`: whose record the fuse is.
Sides::Input Sides::lantern_input(ColumnId id, const FuseRecord& fuse, AssetLayer layer,
                                  Second limit, const Suppose& what) {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    const bool upstream = fuse.word == FuseRecord::Word::none;
    const DeviceChoices* device = upstream ? what.device : what.own;
    if (device == nullptr || (!upstream && layer == AssetLayer::loads)) {
        device = upstream ? &m_devices.choices(figures.device) : &m_devices.choices(fuse, layer);
    }
    const TailLoop loop = with_tail(id);
    const Source& from = what.source != nullptr ? *what.source : *m_facts.source(figures);
    return {*device,
            from,
            figures.earth,
            upstream && figures.missing.has(Missing::termination_side),
            from.has_ze && !figures.has_unknown_source,
            loop.low + what.low + what.tail_low,
            loop.high + what.high + what.tail_high,
            limit};
}

/// What a fault beyond the cut-out is judged by first.
void Sides::place(ColumnId id, const FuseRecord& fuse, std::uint32_t row, Side& side) const {
    side.is_beyond = true;
    side.own_fuse = fuse.word != FuseRecord::Word::none;
    side.device = side.own_fuse ? DeviceId{} : m_figures.columns[id.index()].device;
    side.load_row = row;
}

Side Sides::judge_load(ColumnId id, const Side& in, std::uint32_t row, const Suppose& what) {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    const model::Column& column = m_layers.columns[id.index()];
    const model::Load* load = row == kOwnAttributes ? nullptr : &m_layers.loads[row];
    const bool own_row = load != nullptr && !load->fuse.is_absent();
    const FuseRecord& fuse = own_row ? load->fuse : column.fuse;
    const Second limit = m_facts.out_limit(id, load);
    Side side;
    if (m_facts.is_tt(id)) {
        Maybe<Number> rcd = load != nullptr ? load->rcd_ma : Maybe<Number>{};
        rcd = rcd.has_value() ? rcd : column.rcd_ma;
        side = judge_tt(id, rcd.has_value() ? rcd : m_facts.way_rcd(id), limit);
    } else if (fuse.word == FuseRecord::Word::none && figures.is_multi_fed) {
        FedPoint place = m_figures.fed.at(id);
        const TailLoop loop = with_tail(id);
        place.point.beyond_low += loop.low - figures.loop_low;
        place.point.beyond_high += loop.high - figures.loop_high;
        side = m_sequences.judge(place, limit);
    } else if (fuse.word == FuseRecord::Word::none && in.verdict == Verdict::not_ours) {
        side.verdict = Verdict::not_ours;
    } else if (fuse.word == FuseRecord::Word::none && !figures.device.is_valid()) {
        side.limit = limit;
        side.verdict = Verdict::undecided;
        side.reason = Reason::no_device;
    } else {
        const Input input =
            lantern_input(id, fuse, own_row ? AssetLayer::loads : AssetLayer::columns, limit, what);
        side = judge(input);
        place(id, fuse, row, side);
        return in_series(id, input, side, what);
    }
    place(id, fuse, row, side);
    return side;
}

Side Sides::beyond(ColumnId id, const Side& in, const Suppose& what) {
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

} // namespace loopwalk::protection
