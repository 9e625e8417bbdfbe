#include "loopwalk/checks/review.hpp"

#include "column_findings.hpp"
#include "network_findings.hpp"
#include "way_fuse.hpp"
#include <algorithm>
#include <array>
#include <set>
#include <unordered_map>

namespace loopwalk::checks {

using figures::ColumnFigures;
using figures::devices_of;
using figures::FigureState;
using figures::has_figures;
using figures::SectionFigures;
using protection::Feed;
using protection::FeedKind;
using protection::worse;

namespace {

using base::Maybe;
using base::Number;

/// True if `a` is a smaller margin than `b`; no margin at all is the smallest.
bool is_smaller(const Maybe<Number>& a, const Maybe<Number>& b) {
    if (!a.has_value() || !b.has_value()) {
        return !a.has_value() && b.has_value();
    }
    return *a < *b;
}

/// The first of a column's parts that is undecided, from the source on: incoming side, beyond
/// the cut-out, breaking capacity, heat.
Reason why_undecided(const Judgement& judgement) {
    if (judgement.in.verdict == Verdict::undecided) {
        return judgement.in.reason;
    }
    if (judgement.out.verdict == Verdict::undecided) {
        return judgement.out.reason;
    }
    return judgement.breaking == Verdict::undecided ? judgement.breaking_reason
                                                    : judgement.heat_check.reason;
}

/// The checks that look at the whole, in no particular order: the findings are sorted.
constexpr std::array kReports = {
    report_ends,       report_feeding, report_earth_paths,    report_main_fuses, report_sockets,
    report_ways,       report_devices, report_heat,           report_rings,      report_ratings,
    report_cables,     report_earths,  report_discrimination, report_earthing,   report_losses,
    report_electrodes, report_series,  report_readings};

class Reviewer {
  public:
    Reviewer(const ReviewInput& input, Judge& judge, base::FindingSink& findings)
        : m_in(input), m_judge(judge),
          m_build(input, judge.devices()), m_context{input, m_review, judge, m_build, findings},
          m_columns(m_context), m_fuses(input, judge.devices()) {
        m_review.infeeds.resize(input.network.infeeds.size());
        m_review.verdicts.resize(input.layers.columns.size(), Verdict::none);
        m_review.devices.resize(input.network.devices.size());
        m_review.supplies.resize(input.layers.supplies.size());
    }

    Review run(base::Progress& progress) {
        progress.stage("judge", m_in.layers.columns.size());
        for (std::size_t c = 0; c < m_in.layers.columns.size(); ++c) {
            look_at(ColumnId(c));
            progress.step(c);
        }
        sum_sections();
        sum_supplies();
        count_untraced();
        settle_fuses();
        for (const auto report : kReports) {
            report(m_context);
        }
        return std::move(m_review);
    }

  private:
    void look_at(ColumnId id);
    void add_to_infeed(InfeedSummary& infeed, ColumnId id, const Judgement& judgement);
    void count_column(DeviceId device);
    static void note_worst(InfeedSummary& infeed, ColumnId id, const Side& side);
    void note_volt_drop(InfeedSummary& infeed, ColumnId id);
    void settle_fuses();
    void count_untraced();
    void sum_sections();
    static void add_cover(DeviceSummary& device, protection::Cover cover, double metres);
    void sum_supplies();

    const ReviewInput& m_in;
    Judge& m_judge;
    Review m_review;
    FindingBuilder m_build;
    CheckContext m_context;
    ColumnFindings m_columns;
    WayFuses m_fuses;
    std::vector<ColumnId> m_untraced;
};

void Reviewer::look_at(ColumnId id) {
    const Judgement judgement = m_judge.column(id);
    const Feed feed = m_judge.feeds().of(id);
    Totals& totals = m_review.totals;
    if (model::conducts(m_in.layers.columns[id.index()].status)) {
        ++totals.columns;
        m_review.verdicts[id.index()] = judgement.overall;
        ++totals.by_verdict[static_cast<std::size_t>(judgement.overall)];
        ++totals.by_feed[static_cast<std::size_t>(feed.kind)];
        if (feed.kind == FeedKind::main) {
            ++totals.main_by_basis[static_cast<std::size_t>(feed.basis)];
        }
        if (judgement.overall == Verdict::undecided) {
            ++totals.undecided[why_undecided(judgement)];
        }
    }
    if (judgement.in.verdict == Verdict::undecided || judgement.out.verdict == Verdict::undecided ||
        judgement.breaking == Verdict::undecided || judgement.heat == Verdict::undecided) {
        m_review.undecided.push_back(id);
    }
    const FigureState state = m_in.figures.columns[id.index()].state;
    const bool is_in_service = model::conducts(m_in.layers.columns[id.index()].status);
    if (is_in_service &&
        (state == FigureState::from_main || judgement.in.verdict == Verdict::not_ours)) {
        m_review.main_fuse_only.push_back(id);
    }
    if (is_in_service && judgement.overall == Verdict::not_traced) {
        m_untraced.push_back(id);
    }
    if (judgement.heat == Verdict::fails) {
        m_review.overheated.emplace_back(judgement.heat_check.section, id);
    }
    m_columns.report(id, judgement);
    const ColumnFigures& figures = m_in.figures.columns[id.index()];
    if (!figures.infeed.is_valid()) {
        return;
    }
    const base::ComponentId of = m_in.trace.component_of[figures.vertex.index()];
    const trace::Component& component = m_in.trace.components[of.index()];
    for (const InfeedId infeed : m_in.trace.infeeds_of(component)) { // joined ways feed it together
        add_to_infeed(m_review.infeeds[infeed.index()], id, judgement);
    }
    if (figures.is_multi_fed) {
        for (const DeviceId device : m_in.figures.feeds[m_in.figures.fed.at(id).feed]->devices()) {
            count_column(device);
        }
    } else {
        count_column(figures.device);
    }
}

void Reviewer::count_column(DeviceId device) {
    if (device.is_valid()) {
        ++m_review.devices[device.index()].columns;
    }
}

void Reviewer::add_to_infeed(InfeedSummary& infeed, ColumnId id, const Judgement& judgement) {
    const ColumnFigures& figures = m_in.figures.columns[id.index()];
    const bool computed = has_figures(figures.state);
    ++infeed.by_verdict[static_cast<std::size_t>(judgement.overall)];
    // Where the way's fuse is the distributor's, a lantern's side that meets says nothing of it.
    const bool says_nothing =
        judgement.overall == Verdict::meets && judgement.in.verdict == Verdict::not_ours;
    const Verdict of_column = says_nothing ? Verdict::not_ours : judgement.overall;
    if (!infeed.worst_column.is_valid() || worse(infeed.verdict, of_column) != infeed.verdict) {
        infeed.worst_column = id;
    }
    infeed.verdict = worse(infeed.verdict, of_column);
    if (!computed) {
        return;
    }
    note_worst(infeed, id, judgement.in);
    note_volt_drop(infeed, id);
    m_fuses.add(InfeedId(static_cast<std::size_t>(&infeed - m_review.infeeds.data())), id,
                judgement);
    const auto& run = figures.run;
    const Verdict in = judgement.in.verdict;
    if (in == Verdict::fails && (!infeed.fails_from.is_valid() || run < infeed.fails_from_run)) {
        infeed.fails_from = id;
        infeed.fails_from_run = run;
    }
    const Maybe<Number>& margin = judgement.in.margin;
    if (in == Verdict::meets && margin.has_value() && (*margin).value() < m_in.rules.thin_margin) {
        ++infeed.thin;
        if (!infeed.thin_at.is_valid() || is_smaller(margin, infeed.thin_margin)) {
            infeed.thin_at = id;
            infeed.thin_margin = margin;
        }
    }
}

void Reviewer::note_worst(InfeedSummary& infeed, ColumnId id, const Side& side) {
    const bool is_worse_verdict = side.verdict < infeed.worst_side.verdict;
    const bool is_first = !infeed.worst.is_valid();
    const bool is_same_verdict = side.verdict == infeed.worst_side.verdict;
    if (is_first || is_worse_verdict ||
        (is_same_verdict && is_smaller(side.margin, infeed.worst_side.margin))) {
        infeed.worst = id;
        infeed.worst_side = side;
    }
    if (side.predicted == Verdict::fails && side.predicted_reason == Reason::earth_broken) {
        infeed.without_earth.push_back(id); // no fuse cures that: it has a finding of its own
        return;
    }
    if (side.predicted == Verdict::fails) {
        infeed.slow_columns.push_back(id);
    }
    if (!infeed.slowest.is_valid() || side.predicted < infeed.slowest_side.verdict) {
        infeed.slow = 0;
    } else if (side.predicted > infeed.slowest_side.verdict) {
        return;
    } else if (!is_smaller(side.predicted_margin, infeed.slowest_side.margin)) {
        ++infeed.slow;
        return;
    }
    ++infeed.slow;
    infeed.slowest = id;
    infeed.slowest_side = side;
    infeed.slowest_side.verdict = side.predicted;
    infeed.slowest_side.reason = side.predicted_reason;
    infeed.slowest_side.margin = side.predicted_margin;
}

void Reviewer::note_volt_drop(InfeedSummary& infeed, ColumnId id) {
    const ColumnFigures& figures = m_in.figures.columns[id.index()];
    const Maybe<Number>& high = figures.vdrop_high_pct;
    if (high.has_value() &&
        (!infeed.vdrop_high_pct.has_value() || *high > *infeed.vdrop_high_pct)) {
        infeed.vdrop_high_pct = high;
        infeed.vdrop_low_pct = figures.vdrop_low_pct;
        infeed.vdrop_at = id;
    }
}

void Reviewer::settle_fuses() {
    for (std::size_t r = 0; r < m_review.infeeds.size(); ++r) {
        InfeedSummary& infeed = m_review.infeeds[r];
        m_fuses.settle(InfeedId(r), infeed);
        const impedance::Source* source = m_judge.facts().source_of_infeed(InfeedId(r));
        if (infeed.fuse_max.has_value() && source != nullptr) {
            infeed.fuse_max_margin =
                m_fuses.margin(InfeedId(r), *infeed.fuse_max, infeed.worst_side, *source);
        }
    }
}

/// Columns that nothing feeds count where the one way with their label would feed them.
void Reviewer::count_untraced() {
    std::unordered_map<base::TextId, InfeedId> ways; // invalid: the label is that of several
    for (std::size_t r = 0; r < m_in.network.infeeds.size(); ++r) {
        const auto way = m_in.network.way_of(InfeedId(r));
        if (!way.has_value() || !m_in.network.ways[way->index()].circuit.is_valid()) {
            continue;
        }
        const auto [at, is_new] =
            ways.emplace(m_in.network.ways[way->index()].circuit, InfeedId(r));
        at->second = is_new ? at->second : InfeedId{};
    }
    for (const ColumnId id : m_untraced) {
        const auto way = ways.find(m_in.layers.columns[id.index()].circuit);
        if (way == ways.end() || !way->second.is_valid()) {
            continue;
        }
        constexpr auto kNotTraced = static_cast<std::size_t>(Verdict::not_traced);
        ++m_review.infeeds[way->second.index()].by_verdict[kNotTraced];
        const auto supply = m_in.network.supply_of(way->second);
        ++m_review.supplies[supply->index()].by_verdict[kNotTraced];
    }
}

void Reviewer::sum_sections() {
    for (std::size_t s = 0; s < m_in.figures.sections.size(); ++s) {
        const base::SectionId id(s);
        const SectionFigures& figures = m_in.figures.sections[s];
        if (figures.is_multi_fed) {
            const double metres =
                section_length(m_in.layers, m_in.network.snapped.sections[s]).value();
            const protection::Cover cover = m_judge.covers().of(id).cover;
            for (const DeviceId d : devices_of(m_in.figures, id)) {
                add_cover(m_review.devices[d.index()], cover, metres);
            }
            continue;
        }
        if (!figures.device.is_valid() || (m_judge.devices().is_distributors(figures.device) &&
                                           !m_judge.facts().is_councils(id))) {
            continue;
        }
        DeviceSummary& device = m_review.devices[figures.device.index()];
        const double metres = section_length(m_in.layers, m_in.network.snapped.sections[s]).value();
        add_cover(device, m_judge.covers().of(id).cover, metres);
        if (figures.current.has_value() &&
            (!device.current.has_value() || *figures.current > *device.current)) {
            device.current = figures.current;
        }
    }
    for (std::size_t r = 0; r < m_in.network.infeeds.size(); ++r) {
        const DeviceId device = m_in.network.device_of(InfeedId(r));
        if (device.is_valid()) {
            m_review.devices[device.index()].current = m_in.figures.infeeds[r].design_high;
            m_review.devices[device.index()].current_low = m_in.figures.infeeds[r].design_low;
        }
    }
}

void Reviewer::add_cover(DeviceSummary& device, protection::Cover cover, double metres) {
    switch (cover) {
    case protection::Cover::clears:
        device.clears_m += metres;
        device.verdict = worse(device.verdict, Verdict::meets);
        break;
    case protection::Cover::does_not_clear:
        device.not_m += metres;
        device.verdict = worse(device.verdict, Verdict::fails);
        break;
    case protection::Cover::undecided:
        device.undecided_m += metres;
        device.verdict = worse(device.verdict, Verdict::undecided);
        break;
    case protection::Cover::no_device:
        break;
    }
}

/// Columns and load of a supply; ways that cables join into one component are counted once.
void Reviewer::sum_supplies() {
    for (const trace::Component& component : m_in.trace.components) {
        std::set<base::SupplyId> told;
        for (const InfeedId r : m_in.trace.infeeds_of(component)) {
            const auto id = m_in.network.supply_of(r);
            if (!id.has_value()) {
                continue;
            }
            SupplySummary& supply = m_review.supplies[id->index()];
            const InfeedSummary& infeed = m_review.infeeds[r.index()];
            supply.verdict = worse(supply.verdict, infeed.verdict);
            if (told.insert(*id).second) {
                for (std::size_t v = 0; v < infeed.by_verdict.size(); ++v) {
                    supply.by_verdict[v] += infeed.by_verdict[v];
                }
                supply.columns += m_in.figures.infeeds[r.index()].columns;
                supply.load += m_in.figures.infeeds[r.index()].load;
            }
        }
    }
    for (std::size_t r = 0; r < m_in.network.infeeds.size(); ++r) {
        const DeviceId device = m_in.network.device_of(InfeedId(r));
        if (device.is_valid()) {
            m_review.infeeds[r].device = m_judge.breaking().of_device(device).verdict;
            m_review.infeeds[r].verdict =
                worse(m_review.infeeds[r].verdict, m_review.infeeds[r].device);
        }
    }
    for (std::size_t d = 0; d < m_in.network.devices.size(); ++d) {
        if (m_in.network.devices[d].kind == network::DeviceKind::way) {
            const network::Way& way = m_in.network.ways[m_in.network.devices[d].owner];
            SupplySummary& supply = m_review.supplies[way.supply.index()];
            supply.verdict =
                worse(supply.verdict, m_judge.breaking().of_device(DeviceId(d)).verdict);
        }
    }
}

} // namespace

Review review(const ReviewInput& input, Judge& judge, base::FindingSink& findings,
              base::Progress& progress) {
    return Reviewer(input, judge, findings).run(progress);
}

} // namespace loopwalk::checks
