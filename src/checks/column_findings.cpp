#include "column_findings.hpp"

#include "loopwalk/base/text.hpp"

namespace loopwalk::checks {

using figures::ColumnFigures;
using figures::ColumnLoad;
using figures::FigureState;
using figures::has_figures;
using protection::is_about_rcd;
using protection::is_about_reading;

namespace {

using base::Finding;
using base::Rule;
using base::Severity;
using base::short_text;
using model::FuseRecord;

bool is_breaker(const catalogue::Catalogue& catalogue, const FuseRecord& fuse) {
    return fuse.word == FuseRecord::Word::known &&
           catalogue.fuse(fuse.type).kind == catalogue::FuseKind::breaker;
}

} // namespace

void ColumnFindings::report(ColumnId id, const Judgement& judgement) {
    const model::Column& column = m_in.layers.columns[id.index()];
    if (!model::conducts(column.status)) {
        return;
    }
    equipment(id);
    load(id);
    if (!has_figures(m_in.figures.columns[id.index()].state)) {
        return;
    }
    slow_cut_out(id, judgement);
    breaking(id, judgement);
    label(id);
    for (const std::uint32_t row : m_judge.readings().of(id)) {
        reading(id, judgement, m_in.layers.readings[row]);
    }
}

void ColumnFindings::slow_cut_out(ColumnId id, const Judgement& judgement) {
    const Side& side = judgement.out;
    if ((side.verdict != Verdict::fails && side.verdict != Verdict::undecided) ||
        is_about_reading(side.reason) || side.reason == Reason::earth_broken ||
        is_about_rcd(side.reason)) {
        return;
    }
    const bool fails = side.verdict == Verdict::fails;
    Finding f = m_build.at_column(Rule::slow_cut_out, id, base::certain_if(fails));
    if (side.margin.has_value()) {
        f.value = (*side.margin).value();
        f.limit = 1.0;
    }
    f.message = "Column " + f.asset_id +
                (fails ? " is predicted not to meet its limit " : " cannot be judged ") +
                m_explain.side(id, side) + ".";
    if (!fails) {
        base::settle(f, m_explain.settled_by(id, side));
    }
    m_build.advise(f, id,
                   fails ? "Candidate: a cut-out fuse that needs less current, after a test."
                         : "Record what is missing, or test the loop at the lantern.");
    m_findings.add(std::move(f));
}

void ColumnFindings::breaking(ColumnId id, const Judgement& judgement) {
    if (judgement.breaking != Verdict::fails && judgement.breaking != Verdict::undecided) {
        return;
    }
    const ColumnFigures& figures = m_in.figures.columns[id.index()];
    const bool fails = judgement.breaking == Verdict::fails;
    Finding f = m_build.at_column(Rule::breaking_capacity, id, base::certain_if(fails));
    if (figures.pscc_high_ka.has_value()) {
        f.value = (*figures.pscc_high_ka).value();
    }
    const auto read = m_judge.readings().largest_ka(id);
    const bool is_read = read.has_value() && (*read).value() > f.value.value_or(0.0);
    if (is_read) {
        f.value = (*read).value();
    }
    if (judgement.breaking_ka.has_value()) {
        f.limit = (*judgement.breaking_ka).value();
    }
    f.message = "The cut-out fuse of column " + f.asset_id;
    f.message += fails ? " can break less than the prospective current that can reach it"
                       : " may be unable to break the prospective current";
    if (f.value.has_value()) {
        f.message += (is_read ? " (a reading of " : " (up to ") + short_text(*f.value) + " kA";
        f.message += f.limit.has_value() ? " against " + short_text(*f.limit) + " kA)" : ")";
    }
    f.message += ".";
    if (!fails) {
        base::settle(f, m_explain.settles_breaking(id, judgement.breaking_reason));
    }
    m_build.advise(f, id, "Candidate: a high-rupturing-capacity fuse link; check what is fitted.");
    m_findings.add(std::move(f));
}

void ColumnFindings::equipment(ColumnId id) {
    const model::Column& column = m_in.layers.columns[id.index()];
    bool breaker = is_breaker(m_in.catalogue, column.fuse);
    for (const std::uint32_t row : m_judge.loads().rows(id)) {
        breaker = breaker || is_breaker(m_in.catalogue, m_in.layers.loads[row].fuse);
    }
    if (breaker) {
        Finding f = m_build.at_column(Rule::breaker_in_column, id);
        f.message = "Column " + f.asset_id +
                    " has a circuit breaker: it is damp there, fuses are preferred.";
        m_findings.add(std::move(f));
    }
    if (column.poles == model::Poles::neutral_fused) {
        Finding f = m_build.at_column(Rule::fuse_in_neutral, id);
        f.message = "Column " + f.asset_id +
                    " has a fuse in its neutral: the lamp can be off and still live.";
        m_build.advise(f, id, "Candidate: a solid link in the neutral, after a check on site.");
        m_findings.add(std::move(f));
    }
}

void ColumnFindings::load(ColumnId id) {
    const ColumnLoad load = m_judge.loads().of(id);
    if (load.real.low.value() <= m_in.rules.load_point_w) {
        return;
    }
    Finding f = m_build.at_column(Rule::load_point_over, id);
    f.value = load.real.low.value();
    f.limit = m_in.rules.load_point_w;
    f.message = "Column " + f.asset_id + " loads its supply with " + short_text(*f.value) +
                " W, more than " + short_text(*f.limit) + " W.";
    f.clause = "unmetered supplies, common practice; varies by distributor";
    m_findings.add(std::move(f));
}

void ColumnFindings::label(ColumnId id) {
    const model::Column& column = m_in.layers.columns[id.index()];
    const WayId way_id = m_in.figures.columns[id.index()].nearest_way;
    if (!column.circuit.is_valid() || !way_id.is_valid()) {
        return;
    }
    const network::Way& way = m_in.network.ways[way_id.index()];
    if (!way.circuit.is_valid() || way.circuit == column.circuit ||
        m_build.is_also_fed_by(m_in.figures.columns[id.index()].vertex, column.circuit)) {
        return;
    }
    Finding f = m_build.at_column(Rule::circuit_differs, id);
    f.message = "Column " + f.asset_id + " is labelled circuit " +
                m_in.layers.id_text(column.circuit) + ", but is traced to circuit " +
                m_in.layers.id_text(way.circuit) + ".";
    f.fix = "Check which circuit feeds it; correct the label or the cables.";
    m_findings.add(std::move(f));
}

/// Against the limits of both sides, the incoming one first; one finding says it.
void ColumnFindings::over_limit(ColumnId id, const Judgement& judgement,
                                const model::Reading& row) {
    using protection::CutOutPart;
    const protection::TestPath path = m_judge.test_path(id);
    const auto told = [&](const Side& side, CutOutPart part, base::Certainty certainty) {
        if (!side.zs_limit.has_value() || side.is_rcd) {
            return false;
        }
        const protection::ReadingWeight weight = m_judge.readings().weigh(row, part, path);
        const bool is_over = weight.surely > *side.zs_limit;
        const bool is_near = side.reason == Reason::reading_near && weight.warmed > *side.zs_limit;
        if (certainty == base::Certainty::certain ? !is_over : !is_near) {
            return false;
        }
        Finding f = m_build.at_column(Rule::reading_over_limit, id, certainty);
        f.value = (*row.zs).value();
        f.limit = (is_over ? *side.zs_limit : weight.highest(*side.zs_limit)).value();
        f.message = "A reading of " + short_text(*f.value) + " ohm at column " + f.asset_id +
                    (is_over ? " is above the limit of its device, "
                             : " is too near the limit of its device for warm conductors: above ") +
                    short_text(*f.limit) + " ohm.";
        m_build.advise(f, id, "Test again and look at the earth terminations on the path.");
        m_findings.add(std::move(f));
        return true;
    };
    for (const base::Certainty certainty : {base::Certainty::certain, base::Certainty::possible}) {
        if (told(judgement.in, CutOutPart::incoming, certainty) ||
            told(judgement.out, CutOutPart::beyond, certainty)) {
            return;
        }
    }
}

void ColumnFindings::reading(ColumnId id, const Judgement& judgement, const model::Reading& row) {
    if (!row.zs.has_value()) {
        return;
    }
    const ColumnFigures& figures = m_in.figures.columns[id.index()];
    const double zs = (*row.zs).value();
    const bool at_lantern = row.taken_at == model::TakenAt::lantern;
    const Side& side = at_lantern ? judgement.out : judgement.in;
    over_limit(id, judgement, row);
    const double slack = m_judge.readings().test_error(row.method, *row.zs).value();
    // At the lantern the tail adds to the band; hot minus hot is no less than cold minus cold.
    const double tail = side.zs_high.has_value() && judgement.in.zs_high.has_value() && at_lantern
                            ? (*judgement.out.zs_high).value() - (*judgement.in.zs_high).value()
                            : 0.0;
    const bool high =
        figures.z20_high.has_value() && zs - slack > (*figures.z20_high).value() + tail;
    const bool low = figures.z20_low.has_value() && zs + slack < (*figures.z20_low).value();
    if (!high && !low) {
        return;
    }
    Finding f = m_build.at_column(high ? Rule::reading_high : Rule::reading_low, id);
    f.value = zs;
    f.limit = high ? (*figures.z20_high).value() + tail : (*figures.z20_low).value();
    f.message = "A reading of " + short_text(zs) + " ohm at column " + f.asset_id + " is " +
                (high ? "above" : "below") + " what the records predict, " + short_text(*f.limit) +
                " ohm, by more than the instrument's error.";
    f.fix = high ? "Look at glands, clamps and joints on the path; check cable and length."
                 : "A low reading proves nothing: check length and type of the cables.";
    m_findings.add(std::move(f));
}

} // namespace loopwalk::checks
