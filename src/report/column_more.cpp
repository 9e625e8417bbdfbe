// Breaking capacity, readings, and what would settle or change a column's verdict.
#include "loopwalk/base/text.hpp"

#include "column_sides.hpp"
#include "tt_part.hpp"

namespace loopwalk::report {
namespace {

using base::ColumnId;
using model::FuseRecord;
using protection::Judgement;
using protection::Side;
using protection::Verdict;

std::string breaking_text(const protection::DeviceChoices& device) {
    const protection::BreakingRange range = protection::breaking_range(device);
    if (!range.is_known) {
        return "not known";
    }
    return range.lowest == range.highest
               ? written(range.lowest) + " kA by the catalogue"
               : written(range.lowest) + " to " + written(range.highest) + " kA by the catalogue";
}

void add_fuse(const Context& c, std::vector<std::string>& items, const std::string& name,
              const FuseRecord& fuse, const impedance::FuseStandIns& stand_ins,
              base::Maybe<base::Number> recorded) {
    if (fuse.word == FuseRecord::Word::none) {
        items.push_back(name + ": a solid link, nothing to break a current.");
        return;
    }
    const std::string ka =
        recorded.has_value()
            ? written((*recorded).value()) + " kA as recorded"
            : breaking_text(protection::choices_of(fuse, c.results.catalogue, stand_ins));
    items.push_back(name + ": " + c.explain.fuse_text(fuse) + ", breaking capacity " + ka + ".");
}

} // namespace

void write_breaking(Context& c, ColumnId id, const Judgement& judgement) {
    c.page.heading("Breaking capacity of the cut-out's fuse");
    const model::Column& column = c.layers().columns[id.index()];
    std::vector<std::string> items;
    add_fuse(c, items, "Cut-out", column.fuse, c.results.assumptions.column_fuse,
             column.breaking_ka);
    for (const std::uint32_t row : c.judge.loads().rows(id)) {
        const model::Load& load = c.layers().loads[row];
        if (!load.fuse.is_absent()) {
            add_fuse(c, items, "Load '" + c.text(load.use) + "'", load.fuse,
                     c.results.assumptions.load_fuse, {});
        }
    }
    const figures::ColumnFigures& figures = c.results.figures.columns[id.index()];
    const auto ka = [](const base::Maybe<base::Number>& current) {
        return current.has_value() ? written((*current).value()) + " kA" : std::string("not known");
    };
    items.push_back("Largest prospective current here: " + ka(figures.pscc_high_ka) +
                    " at the most, over every completion of the records; " +
                    ka(figures.pscc_low_ka) + " at the least.");
    if (const auto read = c.judge.readings().largest_ka(id); read.has_value()) {
        items.push_back("A reading of the prospective current here: " + ka(read) + ".");
    }
    items.push_back("Verdict: " + verdict_text(judgement.breaking) +
                    " (BS 7671:2018+A2 reg 434.5.1).");
    c.page.add(Bullets{items});
}

namespace {

/// The band on TT: electrode of the source, cold line, earth path and local electrode.
void write_tt_band(Context& c, ColumnId id, const impedance::Source& source,
                   const TrailOhms& ohms) {
    const figures::ColumnFigures& figures = c.results.figures.columns[id.index()];
    const base::Bounds<base::Ohm> at_source = figures::source_electrode(source, c.rules());
    figures::TtEarthRecord record = c.judge.facts().tt_record(id);
    record.path_ohms = {base::Ohm(ohms.z.cold_low.earth.real()),
                        base::Ohm(ohms.z.cold_high.earth.real())};
    WorkingLines lines;
    const TtTerms local = write_tt_earth(lines, record, "20 C, ");
    const impedance::Complex low = ohms.z.cold_low.line;
    const Term r =
        lines.line("R of the loop (low)", "line + Ra + R2", Term(low.real()) + *local.low, "ohm");
    const Term x = lines.line("X of the loop (low)", "line", Term(low.imag()), "ohm");
    const Term m(at_source.low.value());
    const Term least = lines.line("Zs at 20 C (low)", "lesser of |Zc + M| and |Zc + jM|",
                                  smallest({magnitude(r + m, x), magnitude(r, x + m)}), "ohm");
    must_agree(least.value(), (*figures.z20_low).value(), "the low edge of the reading band");
    if (local.high.has_value()) {
        const impedance::Complex high = ohms.z.cold_high.line;
        const Term line = lines.line("Z line (20 C, high)", "sqrt(R line^2 + X line^2)",
                                     magnitude(Term(high.real()), Term(high.imag())), "ohm");
        const Term most = lines.line("Zs (20 C, high)", "source electrode + Z line + Ra + R2",
                                     Term(at_source.high.value()) + line + *local.high, "ohm");
        must_agree(most.value(), (*figures.z20_high).value(), "the high edge of the reading band");
    }
    c.page.paragraph("M of the low edge: " + written(m.value()) + " ohm, electrode of the source.");
    lines.put_on(c.page);
}

void write_recorded_readings(Context& c, ColumnId id, const Judgement& judgement);

} // namespace

void write_readings(Context& c, ColumnId id, const impedance::Source& source, const TrailOhms& ohms,
                    const Judgement& judgement) {
    c.page.heading("What a loop test should read");
    const figures::ColumnFigures& figures = c.results.figures.columns[id.index()];
    if (!figures.z20_low.has_value()) {
        c.page.paragraph("No band is worked out: the source or the earth path is not known, or Ze "
                         "and the prospective current have different origins.");
        return;
    }
    c.page.paragraph("At the cut-out, conductors at 20 C. Low edge: the source's impedance at its "
                     "angle of least effect; high edge: added in full.");
    if (c.judge.facts().is_tt(id)) {
        write_tt_band(c, id, source, ohms);
        write_recorded_readings(c, id, judgement);
        return;
    }
    WorkingLines lines;
    const auto loop = [&](const impedance::Conductors& z, const std::string& bound) {
        return Ohms{lines.line("R 20 C (" + bound + ")", "line + earth",
                               Term(z.line.real()) + Term(z.earth.real()), "ohm"),
                    lines.line("X 20 C (" + bound + ")", "line + earth",
                               Term(z.line.imag()) + Term(z.earth.imag()), "ohm")};
    };
    const Ohms low = loop(ohms.z.cold_low, "low");
    const Term m(source.reading_low.value());
    const Term least =
        lines.line("Zs at 20 C (low)", "lesser of |Zc + M| and |Zc + jM|",
                   smallest({magnitude(low.r + m, low.x), magnitude(low.r, low.x + m)}), "ohm");
    must_agree(least.value(), (*figures.z20_low).value(), "the low edge of the reading band");
    if (figures.z20_high.has_value()) {
        const Ohms high = loop(ohms.z.cold_high, "high");
        const Term most = write_zs(lines, source, source.ze.high, high, "20 C, high");
        must_agree(most.value(), (*figures.z20_high).value(), "the high edge of the reading band");
    }
    c.page.paragraph("M of the low edge: " + written(m.value()) + " ohm (" +
                     (source.ze_basis == model::Basis::measured
                          ? "the measured Ze"
                          : "the lesser of Ze and the strongest source") +
                     ").");
    lines.put_on(c.page);
    write_recorded_readings(c, id, judgement);
}

namespace {

void write_recorded_readings(Context& c, ColumnId id, const Judgement& judgement) {
    std::vector<std::string> items;
    for (const std::uint32_t row : c.judge.readings().of(id)) {
        const model::Reading& reading = c.layers().readings[row];
        if (reading.zs.has_value()) {
            const char* place = reading.taken_at == model::TakenAt::cut_out   ? "at the cut-out"
                                : reading.taken_at == model::TakenAt::lantern ? "at the lantern"
                                                                              : "place not said";
            items.push_back("Recorded reading: " + written((*reading.zs).value()) + " ohm, " +
                            place + ".");
        }
    }
    if (judgement.in.is_reading_over || judgement.out.is_reading_over) {
        items.emplace_back("A reading is above the limit: the side fails whatever is predicted.");
    }
    if (!items.empty()) {
        items.emplace_back("A low reading never improves a verdict: buried metal makes parallel "
                           "paths.");
        c.page.add(Bullets{items});
    }
}

void add_side(const Context& c, ColumnId id, const Side& side, const std::string& where,
              std::vector<std::string>& items) {
    if (side.verdict == Verdict::undecided) {
        const std::string settles = c.explain.settled_by(id, side);
        items.push_back(where + " is undecided" +
                        (settles.empty() ? "." : "; it would be settled by " + settles + "."));
    }
    if (side.verdict == Verdict::fails && side.zs_limit.has_value() && side.zs_low.has_value() &&
        *side.zs_low > *side.zs_limit) {
        items.push_back(where + " would meet its limit with a loop of at most " +
                        written((*side.zs_limit).value()) +
                        " ohm; the least the records allow is " + written((*side.zs_low).value()) +
                        " ohm. Candidates, each after a test: a device that needs less current, "
                        "larger conductors, a sound earth path.");
    }
}

/// Ratings of the incoming device's type: which clear here, which the cable and the load admit.
void write_sizes(Context& c, ColumnId id, const Judgement& judgement) {
    const figures::ColumnFigures& figures = c.results.figures.columns[id.index()];
    if (!judgement.fuse_max.has_value() && !judgement.fuse_min.has_value()) {
        return;
    }
    if (!judgement.in.device.is_valid()) {
        return; // several devices: no one rating
    }
    const protection::DeviceChoices& device = c.judge.devices().choices(judgement.in.device);
    const auto& design = c.results.figures.infeeds[figures.infeed.index()].design_high;
    c.page.heading("Ratings that would serve on the incoming side");
    std::string text = "Smallest earth-fault current here ";
    text += written(
        (c.judge.facts().source(figures)->u0 * c.rules().cmin / *judgement.in.zs_worst()).value());
    text += " A; smallest cable rating on the path ";
    text +=
        figures.ampacity.has_value() ? written((*figures.ampacity).value()) + " A" : "not known";
    text += "; design current of the way ";
    text += design.has_value() ? written((*design).value()) + " A." : "not known.";
    c.page.paragraph(text);
    Table table{{{"rating A", Align::number}, {"Ia within the limit, A", Align::number}}, {}};
    for (const catalogue::FuseRating& rating : device.any_of[0].type->ratings) {
        const auto needed = catalogue::slow_current(rating.slow, *judgement.in.limit);
        table.rows.push_back({written(rating.rating.value()),
                              needed.has_value() ? written((*needed).value()) : "-"});
    }
    c.page.add(std::move(table));
    const auto amperes = [](const auto& rating) {
        return rating.has_value() ? written((*rating).value()) + " A" : std::string("none");
    };
    c.page.paragraph(
        "Largest that clears here within the cable's rating: " + amperes(judgement.fuse_max) +
        "; smallest that carries the load: " + amperes(judgement.fuse_min) +
        ". Candidates subject to test and consent, never instructions to fit.");
}

} // namespace

void write_settling(Context& c, ColumnId id, const Judgement& judgement, const Loop& loop) {
    c.page.heading("What would settle or change it");
    std::vector<std::string> items;
    add_side(c, id, judgement.in, "The incoming side", items);
    add_side(c, id, judgement.out, "The side beyond the cut-out", items);
    if (judgement.breaking == Verdict::undecided) {
        const std::string settles = c.explain.settles_breaking(id, judgement.breaking_reason);
        items.push_back("The breaking capacity is undecided" +
                        (settles.empty() ? "." : "; it would be settled by " + settles + "."));
    }
    if (!loop.is_exact && items.empty()) {
        items.emplace_back("Nothing is missing that could change the verdict; complete records "
                           "would only narrow the bounds.");
    }
    if (items.empty()) {
        items.emplace_back("The records are complete for this verdict. It changes if they are "
                           "wrong: lengths, types, fuses and the source decide it.");
    }
    c.page.add(Bullets{items});
    write_sizes(c, id, judgement);
}

} // namespace loopwalk::report
