#include "loopwalk/base/text.hpp"
#include "loopwalk/model/names.hpp"

#include "column_sides.hpp"

namespace loopwalk::report {
namespace {

using base::ColumnId;
using figures::FigureState;
using protection::FeedBasis;
using protection::FeedKind;
using protection::Judgement;
using protection::Verdict;

std::string feed_text(const protection::Feed& feed) {
    switch (feed.kind) {
    case FeedKind::pillar:
        return "a pillar";
    case FeedKind::main:
        return feed.basis == FeedBasis::stated         ? "the distributor's main, as stated"
               : feed.basis == FeedBasis::nearest_main ? "the distributor's main, the nearest line"
                                                       : "the distributor's main";
    case FeedKind::column:
        return "another column";
    case FeedKind::several:
        return "several supplies";
    case FeedKind::not_traced:
        return "nothing in the records: no source was found, treat as live";
    }
    return "";
}

void write_summary(Context& c, ColumnId id, const Judgement& judgement) {
    c.page.heading("In short");
    const checks::AssetStanding& standing = c.results.standing.columns[id.index()];
    const bool has_more = judgement.overall == Verdict::meets && standing.is_bad();
    std::vector<std::string> items{
        "Verdict: " + verdict_text(judgement.overall) +
            (has_more ? ", but see the finding " + std::string(base::rule_name(standing.rule))
                      : "") +
            ".",
        "Why: " + c.explain.column(id, judgement) + ".",
        "Fed from: " + feed_text(c.judge.feeds().of(id)) + "."};
    if (judgement.in.verdict == Verdict::not_ours && judgement.out.verdict <= Verdict::meets) {
        items.push_back("Only the lantern side is judged: what lies before its cut-out is the "
                        "distributor's.");
    }
    const auto side = [&](const std::string& where, const protection::Side& s) {
        if (s.verdict != Verdict::none) {
            items.push_back(where + verdict_text(s.verdict) +
                            (s.margin.has_value()
                                 ? ", margin " + base::short_text((*s.margin).value(), 3) + "."
                                 : "."));
        }
    };
    side("Incoming side: ", judgement.in);
    side("Beyond the cut-out's fuse: ", judgement.out);
    if (judgement.breaking != Verdict::none) {
        items.push_back("Breaking capacity: " + verdict_text(judgement.breaking) + ".");
    }
    if (judgement.heat != Verdict::none) {
        items.push_back("Heat of the earth path: " + verdict_text(judgement.heat) + ".");
    }
    if (judgement.vdrop != Verdict::none) {
        items.push_back("Volt drop: " + verdict_text(judgement.vdrop) + ".");
    }
    if (judgement.basis.has_value()) {
        items.push_back("Weakest source figure behind it: " +
                        std::string(model::basis_name(*judgement.basis)) + ".");
    }
    c.page.add(Bullets{items});
}

std::vector<TypeUse> types_on(const Context& c, const std::vector<base::SectionId>& sections) {
    std::vector<TypeUse> types;
    types.reserve(sections.size());
    for (const base::SectionId id : sections) {
        types.push_back(type_of(c, id));
    }
    return types;
}

void compare_loop(const Judgement& judgement, const Loop& loop) {
    if (judgement.zs_low.has_value()) {
        must_agree(loop.zs_low.value_or(0.0).value(), (*judgement.zs_low).value(),
                   "the loop impedance (low)");
    }
    if (judgement.zs_high.has_value()) {
        must_agree(loop.zs_high.value_or(0.0).value(), (*judgement.zs_high).value(),
                   "the loop impedance (high)");
    }
}

void compare_prospective(const figures::ColumnFigures& figures, const Prospective& worked) {
    if (figures.pscc_high_ka.has_value()) {
        must_agree(worked.high.value_or(0.0).value(), (*figures.pscc_high_ka).value(),
                   "the largest current");
    }
    if (figures.pscc_low_ka.has_value()) {
        must_agree(worked.low.value_or(0.0).value(), (*figures.pscc_low_ka).value(),
                   "the least largest current");
    }
}

std::vector<base::DeviceId> devices_of(const Context& c, ColumnId id) {
    const figures::ColumnFigures& figures = c.results.figures.columns[id.index()];
    if (figures.is_multi_fed) {
        return c.results.figures.feeds[c.results.figures.fed.at(id).feed]->devices();
    }
    return {figures.device};
}

void write_cables(Context& c, const Trail& trail) {
    std::vector<base::SectionId> all = c.sections_of(trail);
    const auto looped = loop_sections(trail);
    all.insert(all.end(), looped.begin(), looped.end());
    c.page.heading("Cable types, ohm per km");
    write_types(c, types_on(c, all));
    write_length_rule(c);
    write_lengths(c, c.sections_of(trail));
}

/// Every ohm worked on the page.
void write_worked(Context& c, ColumnId id, const Judgement& judgement, const Trail& trail) {
    const figures::ColumnFigures& figures = c.results.figures.columns[id.index()];
    const impedance::Source& source = *c.source_of(trail.infeed);
    const std::vector<LoopOhms> loops = write_loops(c, trail);
    TrailOhms ohms = write_trail_ohms(c, trail, loops);
    ohms.earth = figures.earth;
    const Loop loop = c.judge.facts().is_tt(id) ? write_tt_loop(c, id, source, ohms)
                                                : write_loop(c, source, ohms);
    compare_loop(judgement, loop);
    write_incoming(c, id, judgement, loop);
    write_outgoing(c, id, judgement, loop);
    const Prospective prospective = write_prospective(c, trail, source, ohms);
    compare_prospective(figures, prospective);
    write_breaking(c, id, judgement);
    write_heat(c, id, judgement);
    write_volt_drop(c, id, trail);
    write_readings(c, id, source, ohms, judgement);
    write_settling(c, id, judgement, loop);
}

std::string between(const auto& low, const auto& high, const char* unit) {
    const auto number = [](const auto& value) {
        return value.has_value() ? written((*value).value()) : std::string("not known");
    };
    return number(low) + " to " + number(high) + " " + unit;
}

/// A loop whose records leave a range, or that several supplies feed: its ohms are bounds that
/// hold for every completion, taken over from the figures.
void write_bounded(Context& c, ColumnId id, const Judgement& judgement, const Trail& trail) {
    const figures::ColumnFigures& figures = c.results.figures.columns[id.index()];
    const impedance::Source& source = *c.source_of(figures.infeed);
    c.page.heading("Closed loops on the way");
    c.page.paragraph(trail.is_one_supply
                         ? "The records leave a range for the cables of a closed loop. The bounds "
                           "of its impedance are outer ones that no completion leaves "
                           "(docs/method.md section 5); they are given, not worked, here."
                         : "Several supplies feed it: a danger by itself. The smallest current is "
                           "that of the weakest supply alone, the largest that of all together "
                           "(docs/method.md section 5); both are given, not worked, here.");
    c.page.paragraph("Zs here: " + between(judgement.zs_low, judgement.zs_high, "ohm") +
                     ". Largest prospective current: " +
                     between(figures.pscc_low_ka, figures.pscc_high_ka, "kA") +
                     ". What a loop test should read at 20 C: " +
                     between(figures.z20_low, figures.z20_high, "ohm") + ".");
    const Loop loop = write_given_loop(c, source, figures);
    if (trail.is_one_supply && !c.judge.facts().is_tt(id) && source.has_ze) {
        compare_loop(judgement, loop);
    }
    write_incoming(c, id, judgement, loop);
    write_outgoing(c, id, judgement, loop);
    write_breaking(c, id, judgement);
    write_heat(c, id, judgement);
    write_volt_drop(c, id, trail);
    write_settling(c, id, judgement, loop);
}

void write_computed(Context& c, ColumnId id, const Judgement& judgement) {
    const figures::ColumnFigures& figures = c.results.figures.columns[id.index()];
    Trail trail = c.trail_to(figures.vertex);
    trail.infeed = figures.infeed;
    write_route(c, trail, protection_text(c, devices_of(c, id)));
    write_source(c, trail.infeed);
    write_cables(c, trail);
    if (can_work_loops(c, trail)) {
        write_worked(c, id, judgement, trail);
    } else {
        write_bounded(c, id, judgement, trail);
    }
}

void write_without_figures(Context& c, ColumnId id, FigureState state) {
    const figures::ColumnFigures& figures = c.results.figures.columns[id.index()];
    if (state == FigureState::from_main) {
        write_route(c, c.trail_to(figures.vertex), protection_text(c, {figures.device}));
        c.page.paragraph("The impedance of the distributor's main is not worked out: no substation "
                         "is recorded for it.");
    }
}

} // namespace

void write_column(Context& c, ColumnId id) {
    const model::Column& column = c.layers().columns[id.index()];
    c.page.title = "Column " + c.text(column.id) + ": the working";
    const Judgement judgement = c.judge.column(id);
    const FigureState state = c.results.figures.columns[id.index()].state;
    if (!model::conducts(column.status)) {
        c.page.paragraph("The column is recorded as removed or disconnected and takes no part in "
                         "the calculation. It may be live all the same.");
    }
    write_door(c, id, judgement);
    write_ends(c, c.net().snapped.column_node[id.index()]);
    write_summary(c, id, judgement);
    if (figures::has_figures(state)) {
        write_computed(c, id, judgement);
    } else {
        write_without_figures(c, id, state);
    }
    write_findings(c, {base::AssetLayer::columns, static_cast<std::uint32_t>(id.index())},
                   c.results.figures.columns[id.index()].infeed);
    write_cautions(c);
}

} // namespace loopwalk::report
