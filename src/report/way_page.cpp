// The page of a way: its columns in the order of the current, the worst of them, and its device.
#include "loopwalk/base/text.hpp"

#include "parts.hpp"
#include <algorithm>
#include <tuple>

namespace loopwalk::report {
namespace {

using base::ColumnId;
using base::InfeedId;
using base::WayId;
using protection::Verdict;

std::optional<InfeedId> infeed_of(const Context& c, WayId way) {
    for (std::size_t r = 0; r < c.net().infeeds.size(); ++r) {
        if (c.net().way_of(InfeedId(r)) == way) {
            return InfeedId(r);
        }
    }
    return std::nullopt;
}

/// Columns that hang on it, the nearest first: those of a source's component, at a section pillar
/// those for which it is the nearest way.
std::vector<ColumnId> columns_of(const Context& c, WayId way, std::optional<InfeedId> infeed) {
    std::vector<ColumnId> columns;
    for (std::size_t i = 0; i < c.layers().columns.size(); ++i) {
        const figures::ColumnFigures& figures = c.results.figures.columns[i];
        if (!model::conducts(c.layers().columns[i].status) || !figures.infeed.is_valid()) {
            continue;
        }
        const bool is_on =
            infeed.has_value()
                ? c.results.trace.component_of[figures.vertex.index()] ==
                      c.results.trace.component_of[c.net().vertex_of(*infeed).index()]
                : figures.nearest_way == way;
        if (is_on) {
            columns.emplace_back(i);
        }
    }
    std::ranges::sort(columns, {}, [&](ColumnId id) {
        const figures::ColumnFigures& figures = c.results.figures.columns[id.index()];
        return std::tuple(figures.hops, figures.run, id);
    });
    return columns;
}

std::string number(const auto& value) {
    return value.has_value() ? written((*value).value()) : std::string("-");
}

void write_columns(Context& c, const std::vector<ColumnId>& columns) {
    c.page.heading("Its columns, the nearest first");
    if (columns.empty()) {
        c.page.paragraph("No column in service hangs on it, by the records.");
        return;
    }
    Table table{{{"column"},
                 {"before it"},
                 {"m", Align::number},
                 {"Zs high", Align::number},
                 {"limit", Align::number},
                 {"margin", Align::number},
                 {"verdict"},
                 {"worst finding"}},
                {}};
    for (const ColumnId id : columns) {
        const figures::ColumnFigures& figures = c.results.figures.columns[id.index()];
        const protection::Judgement judgement = c.judge.column(id);
        const checks::AssetStanding& standing = c.results.standing.columns[id.index()];
        table.rows.push_back(
            {c.text(c.layers().columns[id.index()].id),
             figures.upstream.is_valid() ? c.node_name(figures.upstream) : "-",
             written(figures.run.value()), number(judgement.zs_high), number(judgement.in.zs_limit),
             number(judgement.in.margin), verdict_text(judgement.overall),
             standing.findings > 0 ? std::string(base::severity_name(standing.severity)) + ", " +
                                         std::string(base::rule_name(standing.rule))
                                   : std::string("-")});
    }
    c.page.paragraph("Metres from the supply; Zs, the device's limit and the margin are those of "
                     "incoming sides, in ohm. The page of a column has its working.");
    c.page.add(std::move(table));
}

std::string counts_text(const checks::InfeedSummary& sum) {
    const auto of = [&](Verdict v) {
        return std::to_string(sum.by_verdict[static_cast<std::size_t>(v)]);
    };
    return "Columns predicted to meet: " + of(Verdict::meets) +
           ", not to meet: " + of(Verdict::fails) +
           ", cannot be judged: " + of(Verdict::undecided) +
           ", not ours: " + of(Verdict::not_ours) +
           ", not traced (treat as live): " + of(Verdict::not_traced) + ".";
}

} // namespace

void write_way(Context& c, WayId id) {
    const network::Way& way = c.net().ways[id.index()];
    const std::string supply = c.text(c.layers().supplies[way.supply.index()].id);
    c.page.title = "Way " + supply + "/" + c.text(way.name);
    const auto infeed = infeed_of(c, id);
    const auto columns = columns_of(c, id, infeed);
    c.page.heading("In short");
    const checks::AssetStanding& standing = c.results.standing.ways[id.index()];
    std::vector<std::string> items{
        "Device: " +
        (way.device.is_valid() ? c.explain.fuse_text(c.net().devices[way.device.index()].fuse)
                               : std::string("none of its own on record")) +
        "."};
    if (standing.findings > 0) {
        items.insert(items.begin(),
                     "Worst finding: " + std::string(base::severity_name(standing.severity)) +
                         ", " + std::string(base::rule_name(standing.rule)) + " (below).");
    }
    if (infeed.has_value()) {
        const checks::InfeedSummary& sum = c.results.review.infeeds[infeed->index()];
        items.push_back("Verdict: " + verdict_text(sum.verdict) + ".");
        items.push_back(counts_text(sum));
        if (sum.worst.is_valid()) {
            items.push_back(
                "Worst incoming side: " + c.text(c.layers().columns[sum.worst.index()].id) + " " +
                c.explain.side(sum.worst, sum.worst_side) + ".");
        }
        const figures::InfeedFigures& figures = c.results.figures.infeeds[infeed->index()];
        items.push_back("Load: " + written(figures.load.low.value()) + " to " +
                        written(figures.load.high.value()) + " W over " +
                        written(figures.length.value()) + " m of cable" +
                        (figures.loops > 0 ? ", with closed loops" : "") + ".");
        if (c.is_three_phase(*infeed)) {
            items.push_back("Three phases: 400 V along it.");
        }
    } else {
        items.push_back("It leaves a section pillar, which the trace passes through.");
    }
    c.page.add(Bullets{items});
    write_columns(c, columns);
    write_findings(c, {base::AssetLayer::ways, static_cast<std::uint32_t>(id.index())});
    write_cautions(c);
}

} // namespace loopwalk::report
