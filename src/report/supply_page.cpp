#include "loopwalk/base/text.hpp"

#include "parts.hpp"

namespace loopwalk::report {
namespace {

using base::InfeedId;
using base::SupplyId;
using protection::Verdict;

/// Infeeds that are ways of the supply; none at a section pillar.
std::vector<InfeedId> infeeds_of(const Context& c, SupplyId id) {
    std::vector<InfeedId> infeeds;
    for (std::size_t r = 0; r < c.net().infeeds.size(); ++r) {
        const InfeedId infeed(r);
        if (c.net().supply_of(infeed) == id) {
            infeeds.push_back(infeed);
        }
    }
    return infeeds;
}

std::string amperes(const base::Maybe<base::Ampere>& current) {
    return current.has_value() ? written((*current).value()) : "-";
}

void add_way(const Context& c, Table& table, InfeedId infeed) {
    const network::Way& way = c.net().ways[c.net().way_of(infeed)->index()];
    const figures::InfeedFigures& figures = c.results.figures.infeeds[infeed.index()];
    const checks::InfeedSummary& summary = c.results.review.infeeds[infeed.index()];
    table.rows.push_back(
        {c.text(way.name),
         way.device.is_valid() ? c.explain.fuse_text(c.net().devices[way.device.index()].fuse)
                               : "nothing recorded",
         std::to_string(figures.columns), written(figures.load.low.value()),
         written(figures.load.high.value()), amperes(figures.design_low),
         amperes(figures.design_high),
         summary.worst.is_valid() ? c.text(c.layers().columns[summary.worst.index()].id) : "-",
         summary.worst_side.margin.has_value() ? written((*summary.worst_side.margin).value())
                                               : "-",
         std::string(protection::verdict_name(summary.verdict))});
}

void write_ways(Context& c, const std::vector<InfeedId>& infeeds) {
    c.page.heading("Its ways");
    if (infeeds.empty()) {
        c.page.paragraph("No way of it is a source of the trace: no cable in service leaves it, or "
                         "it is a section pillar, which is traced through.");
        return;
    }
    c.page.paragraph("Loads in W and design currents in A, low and high over every completion of "
                     "the records. The worst column of each way has the working on its own page.");
    Table table{{{"way"},
                 {"device"},
                 {"columns", Align::number},
                 {"W low", Align::number},
                 {"W high", Align::number},
                 {"Ib low", Align::number},
                 {"Ib high", Align::number},
                 {"worst column"},
                 {"margin", Align::number},
                 {"verdict"}},
                {}};
    for (const InfeedId infeed : infeeds) {
        add_way(c, table, infeed);
    }
    c.page.add(std::move(table));
}

/// The largest current at the terminals; none worked where mains lie before them.
std::optional<Term> write_current(Context& c, const impedance::Source& source) {
    const base::Ohm least = impedance::least_at_terminals(source);
    const base::Ohm m = source.is_three_phase && source.strongest_phase < source.strongest
                            ? source.strongest_phase
                            : source.strongest;
    if (least != m) {
        c.page.paragraph("Largest current at the terminals, over the mains before them: " +
                         written((source.u0 * c.rules().cmax / least).value() / 1000.0) + " kA.");
        return std::nullopt;
    }
    WorkingLines lines;
    const bool by_phase = m != source.strongest;
    const Term current = lines.line(
        "I largest", by_phase ? "Cmax * U0 / M phase / 1000" : "Cmax * U0 / M / 1000",
        Term(c.rules().cmax) * Term(source.u0.value()) / Term(m.value()) / Term(1000.0), "kA");
    lines.put_on(c.page);
    return current;
}

/// Breaking capacity of each way's device against the current at the terminals.
void write_breaking(Context& c, SupplyId id, const std::vector<InfeedId>& infeeds) {
    const impedance::Source& source = c.results.figures.sources[id.index()];
    c.page.heading("Breaking capacity of its devices");
    const std::optional<Term> current = write_current(c, source);
    std::vector<std::string> items;
    for (const InfeedId infeed : infeeds) {
        const network::Way& way = c.net().ways[c.net().way_of(infeed)->index()];
        if (!way.device.is_valid()) {
            continue;
        }
        const auto breaking = c.judge.breaking().of_device(way.device);
        if (current.has_value() && breaking.current_ka.has_value()) {
            must_agree(current->value(), (*breaking.current_ka).value(),
                       "the largest current at the terminals");
        }
        items.push_back(
            "Way " + c.text(way.name) + ", " +
            c.explain.fuse_text(c.net().devices[way.device.index()].fuse) + ": breaking capacity " +
            (breaking.device_ka.has_value()
                 ? "at least " + written((*breaking.device_ka).value()) + " kA"
                 : std::string("not known")) +
            "; " +
            (c.judge.devices().is_distributors(way.device) ? verdict_text(Verdict::not_ours)
                                                           : verdict_text(breaking.verdict)) +
            " (BS 7671:2018+A2 reg 434.5.1).");
    }
    c.page.add(Bullets{items});
}

} // namespace

void write_supply(Context& c, SupplyId id) {
    const model::Supply& supply = c.layers().supplies[id.index()];
    c.page.title = "Supply " + c.text(supply.id) + ": the working";
    if (!model::conducts(supply.status)) {
        c.page.paragraph("The supply is recorded as removed or disconnected and takes no part in "
                         "the calculation. It may be live all the same.");
    }
    write_ends(c, c.net().snapped.supply_node[id.index()]);
    const auto infeeds = infeeds_of(c, id);
    if (supply.kind == model::SupplyKind::section_pillar) {
        c.page.paragraph("A section pillar is no source: the trace passes through it, and the "
                         "fuses of its ways protect what lies beyond. The figures are on the pages "
                         "of the columns and cables beyond it.");
    } else {
        write_supply_source(c, id);
        write_ways(c, infeeds);
        if (!infeeds.empty()) {
            write_breaking(c, id, infeeds);
        }
    }
    write_findings(c, {base::AssetLayer::supplies, static_cast<std::uint32_t>(id.index())});
    write_cautions(c);
}

} // namespace loopwalk::report
