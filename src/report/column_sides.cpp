#include "column_sides.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

namespace loopwalk::report {
namespace {

using base::ColumnId;
using model::FuseRecord;
using protection::Judgement;
using protection::Side;
using protection::Verdict;

constexpr double kHighwayLimit = 5.0;

std::string default_limit_text(base::Second limit, const char* key) {
    return limit.value() == kHighwayLimit
               ? "fixed highway equipment, BS 7671:2018+A2 reg 714.411.202"
               : std::string("the job's ") + key;
}

std::string in_limit_text(const Context& c, ColumnId id) {
    if (c.layers().columns[id.index()].limit.has_value()) {
        return "limit_s of the column";
    }
    const base::WayId way = c.results.figures.columns[id.index()].nearest_way;
    if (way.is_valid() && c.net().ways[way.index()].row.is_valid() &&
        c.layers().ways[c.net().ways[way.index()].row.index()].limit.has_value()) {
        return "limit_s of way " + c.text(c.net().ways[way.index()].name);
    }
    return default_limit_text(c.rules().disconnection, "disconnection_s");
}

std::string out_limit_text(const Context& c, ColumnId id, const Side& side) {
    const bool has_row = side.load_row < c.layers().loads.size();
    if (has_row && c.layers().loads[side.load_row].limit.has_value()) {
        return "limit_s of the load";
    }
    const base::Second plain =
        c.layers().columns[id.index()].limit.value_or(c.rules().cut_out_disconnection);
    if (has_row && side.limit != base::Maybe(plain)) {
        return "what it feeds is held in the hand, BS 7671:2018+A2 table 41.1";
    }
    return c.layers().columns[id.index()].limit.has_value()
               ? "limit_s of the column"
               : default_limit_text(c.rules().cut_out_disconnection, "cut_out_disconnection_s");
}

void compare(const DutyFigures& worked, const Side& side) {
    const auto both = [](const auto& a, const auto& b, const char* what) {
        if (a.has_value() && b.has_value()) {
            must_agree((*a).value(), (*b).value(), what);
        } else if (a.has_value() != b.has_value()) {
            throw base::InternalError(std::string("the working and the figures disagree on ") +
                                      what);
        }
    };
    both(worked.zs_limit, side.zs_limit, "the loop limit");
    both(worked.margin, side.predicted_margin, "the margin");
    both(worked.clear, side.clear, "the clearing time");
}

/// (Ra + R2) * Idn up to the touch voltage.
void write_rcd(Context& c, ColumnId id, const Side& side) {
    const double touch = c.rules().touch_voltage.value();
    c.page.paragraph(
        "TT: an RCD has to open it. Limit: the electrode's resistance Ra and that of the "
        "earth path to it, R2, times the rated residual current Idn is at most " +
        written(touch) + " V (BS 7671:2018+A2 reg 411.5.3).");
    if (!side.zs_limit.has_value()) {
        return;
    }
    const figures::TtEarth earth = c.judge.facts().tt_earth(id);
    const auto ohms = [](const base::Maybe<base::Ohm>& bound) {
        return bound.has_value() ? written((*bound).value()) + " ohm" : std::string("not known");
    };
    const double limit = (*side.zs_limit).value();
    const double idn = touch / limit;
    c.page.paragraph("Ra + R2: " + ohms(earth.low) + " at the low bound, " + ohms(earth.high) +
                     " at the high bound. Idn " + written(idn) + " A.");
    WorkingLines lines;
    const Term most =
        lines.line("Ra limit", written(touch) + " / Idn", Term(touch) / Term(idn), "ohm");
    must_agree(most.value(), limit, "the electrode's limit");
    if (side.margin.has_value()) {
        const Term margin =
            lines.line("margin", "Ra limit / (Ra + R2)", most / Term((*earth.high).value()), "");
        must_agree(margin.value(), (*side.margin).value(), "the electrode's margin");
    }
    lines.put_on(c.page);
}

/// The margin by a reading, where it is the worse one.
void write_reading_margin(Context& c, const Side& side) {
    if (!side.margin.has_value() || !side.zs_by_reading.has_value() ||
        side.margin == side.predicted_margin) {
        return;
    }
    c.page.paragraph("A test reading stands for " + written((*side.zs_by_reading).value()) +
                     " ohm with warm conductors; by it the margin is smaller.");
    WorkingLines lines;
    const Term margin =
        lines.line("margin", "Zs limit / Zs by the reading",
                   Term((*side.zs_limit).value()) / Term((*side.zs_by_reading).value()), "");
    must_agree(margin.value(), (*side.margin).value(), "the margin by a reading");
    lines.put_on(c.page);
}

void write_verdict(Context& c, ColumnId id, const Side& side) {
    write_reading_margin(c, side);
    std::string text = "Verdict of this side: " + verdict_text(side.verdict) + ".";
    if (side.verdict != Verdict::none && side.verdict != Verdict::meets) {
        text += " In short: " + c.explain.side(id, side) + ".";
    }
    if (side.is_reading_over) {
        text += " A test reading is above the limit: that decides, whatever is predicted (" +
                verdict_text(side.predicted) + " by the records alone).";
    }
    c.page.paragraph(text);
}

struct OwnFuse {
    const FuseRecord& record;
    protection::DeviceChoices choices;
};

OwnFuse own_fuse(const Context& c, ColumnId id, const Side& side) {
    const model::Layers& layers = c.layers();
    const bool of_row =
        side.load_row < layers.loads.size() && !layers.loads[side.load_row].fuse.is_absent();
    const FuseRecord& record =
        of_row ? layers.loads[side.load_row].fuse : layers.columns[id.index()].fuse;
    const auto& stand_ins =
        of_row ? c.results.assumptions.load_fuse : c.results.assumptions.column_fuse;
    return {record, protection::choices_of(record, c.results.catalogue, stand_ins)};
}

} // namespace

void write_incoming(Context& c, ColumnId id, const Judgement& judgement, const Loop& loop) {
    c.page.heading("A fault on the incoming side of the cut-out");
    const Side& side = judgement.in;
    const impedance::Source& source =
        *c.judge.facts().source(c.results.figures.columns[id.index()]);
    if (side.is_rcd) {
        write_rcd(c, id, side);
    } else if (side.is_multi_fed) {
        write_openings(c, c.results.figures.fed.at(id), side, in_limit_text(c, id));
    } else if (side.device.is_valid() && side.verdict != Verdict::not_ours) {
        const std::string name = c.explain.device_name(side.device);
        compare(write_duty(c, {c.judge.devices().choices(side.device), name, *side.limit,
                               in_limit_text(c, id), source, loop}),
                side);
    }
    write_verdict(c, id, side);
}

namespace {

/// The tail's own ohms added to the loop at the column.
Loop with_tail(Context& c, ColumnId id, const impedance::Source& source, const Loop& loop) {
    const model::Column& column = c.layers().columns[id.index()];
    const TypeUse use{column.tail_type.type, true, true};
    const base::Bounds<base::Metre> length =
        impedance::tail_length(column, c.results.assumptions, c.rules());
    c.page.paragraph("Tail from the cut-out to the lantern: " + type_name(c, use) + ", " +
                     (length.is_exact()
                          ? written(length.high.value()) + " m."
                          : written(length.low.value()) + " to " + written(length.high.value()) +
                                " m (no length recorded)."));
    const impedance::CablePerKm tail =
        use.type.is_valid()
            ? impedance::per_km(c.results.catalogue.cable(use.type), c.rules().armour_ac_factor)
            : c.results.assumptions.missing_tail;
    WorkingLines lines;
    Loop out;
    out.is_exact = loop.is_exact && length.is_exact() && use.type.is_valid();
    const auto add = [&](const Ohms& before, const impedance::Conductors& km, double metres,
                         const std::string& bound) {
        const std::string label = bound.empty() ? "" : " (" + bound + ")";
        const Term share = Term(metres) / Term(1000.0);
        const std::string formula = " at the cut-out + (line + core) * tail / 1000";
        return Ohms{
            lines.line("R lantern" + label, "R" + formula,
                       before.r + (Term(km.line.real()) + Term(km.earth.real())) * share, "ohm"),
            lines.line("X lantern" + label, "X" + formula,
                       before.x + (Term(km.line.imag()) + Term(km.earth.imag())) * share, "ohm")};
    };
    const std::string high = out.is_exact ? "" : "high";
    out.high = add(loop.high, tail.z.hot_high, length.high.value(), high);
    out.low = out.is_exact ? out.high : add(loop.low, tail.z.hot_low, length.low.value(), "low");
    if (loop.zs_high.has_value()) {
        out.zs_high = write_zs(lines, source, source.ze.high, out.high, high);
    }
    if (loop.zs_low.has_value()) {
        out.zs_low = out.is_exact && out.zs_high.has_value()
                         ? out.zs_high
                         : write_zs(lines, source, source.ze.low, out.low, "low");
    }
    lines.put_on(c.page);
    return out;
}

/// Why a device upstream is named for a fault beyond the cut-out.
std::string why_upstream(const Context& c, ColumnId id) {
    return c.layers().columns[id.index()].fuse.word == FuseRecord::Word::none
               ? ", since the cut-out holds a solid link"
               : ", which opens before the cut-out's own fuse";
}

impedance::Complex beyond(const Ohms& whole, const Ohms& before) {
    return {whole.r.value() - before.r.value(), whole.x.value() - before.x.value()};
}

} // namespace

void write_outgoing(Context& c, ColumnId id, const Judgement& judgement, const Loop& loop) {
    c.page.heading("A fault beyond the cut-out's fuse, at the lantern");
    const Side& side = judgement.out;
    const impedance::Source& source =
        *c.judge.facts().source(c.results.figures.columns[id.index()]);
    if (side.load_row < c.layers().loads.size()) {
        c.page.paragraph("The column has " + std::to_string(c.judge.loads().rows(id).size()) +
                         " loads; the one that decides is '" +
                         c.text(c.layers().loads[side.load_row].use) + "'.");
    }
    const bool has_device = side.own_fuse || side.device.is_valid() || side.is_multi_fed;
    if (side.is_rcd) {
        write_rcd(c, id, side);
    } else if (has_device && side.verdict != Verdict::not_ours) {
        c.page.paragraph("The tail, in ohm per km:");
        write_types(c, {TypeUse{c.layers().columns[id.index()].tail_type.type, true, true}});
        const Loop out = with_tail(c, id, source, loop);
        if (side.is_multi_fed) {
            figures::FedPoint place = c.results.figures.fed.at(id);
            place.point.beyond_low += beyond(out.low, loop.low);
            place.point.beyond_high += beyond(out.high, loop.high);
            write_openings(c, place, side, out_limit_text(c, id, side));
        } else if (side.own_fuse) {
            const OwnFuse fuse = own_fuse(c, id, side);
            compare(write_duty(c, {fuse.choices, "the cut-out's own fuse", *side.limit,
                                   out_limit_text(c, id, side), source, out}),
                    side);
        } else {
            compare(write_duty(c, {c.judge.devices().choices(side.device),
                                   c.explain.device_name(side.device) + why_upstream(c, id),
                                   *side.limit, out_limit_text(c, id, side), source, out}),
                    side);
        }
    }
    write_verdict(c, id, side);
}

} // namespace loopwalk::report
