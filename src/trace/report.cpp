#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"
#include "loopwalk/trace/trace.hpp"

#include "joined.hpp"
#include <algorithm>
#include <bit>
#include <map>
#include <set>
#include <string>

namespace loopwalk::trace {
namespace {

using base::AssetLayer;
using base::Finding;
using base::Rule;
using base::Severity;
using model::Owner;
using model::Phase;
using network::Network;
using network::NodeKind;

constexpr const char* kTreatAsLive = "no source was found in the records, treat as live";

class Reporter {
  public:
    Reporter(const model::Layers& layers, const Network& net, const Trace& trace,
             base::FindingSink& findings)
        : m_layers(layers), m_net(net), m_trace(trace), m_findings(findings) {}

    void run() {
        for (std::size_t c = 0; c < m_layers.columns.size(); ++c) {
            report_column(base::ColumnId(c));
        }
        report_without_cables();
        for (std::size_t c = 0; c < m_layers.cables.size(); ++c) {
            report_cable(base::CableId(c));
        }
        for (const Component& component : m_trace.components) {
            if (component.feeding == Feeding::several) {
                report_joined_supplies(component);
            }
            const bool is_on_main = component.infeed_count > 0 &&
                                    m_net.main_of(m_trace.infeeds_of(component)[0]).has_value();
            if (!report_joined_phases(component) && component.feeding == Feeding::ring &&
                !is_on_main) { // two ends on one main have no fuse of their own to draw
                report_joined_ways(component);
            }
        }
        report_phases_in_columns();
    }

  private:
    static Finding finding(Rule rule, Severity severity, AssetLayer layer, std::string id) {
        Finding f;
        f.rule = rule;
        f.severity = severity;
        f.layer = layer;
        f.asset_id = std::move(id);
        return f;
    }

    void report_column(base::ColumnId id);
    void report_without_cables();
    void report_fed_twice(const model::Column& column, const Component& component);
    void report_cable(base::CableId id);
    void report_joined_supplies(const Component& component);
    bool report_joined_phases(const Component& component);
    void report_joined_ways(const Component& component);
    void add_columns(Finding& finding, const Component& component) const;
    void report_phases_in_columns();
    [[nodiscard]] Phase phase_of_infeed(InfeedId id) const;
    [[nodiscard]] Phase phase_of_section(std::size_t section) const;
    [[nodiscard]] Finding at_cable(Rule rule, base::SectionId section) const;
    [[nodiscard]] std::string source_name(InfeedId id) const;

    const model::Layers& m_layers;
    const Network& m_net;
    const Trace& m_trace;
    base::FindingSink& m_findings;
    std::vector<base::ColumnId> m_without_cables; ///< untraced, where there are no cables at all
};

Severity untraced_severity(Owner owner) {
    return owner == Owner::council ? Severity::fail : Severity::note;
}

void Reporter::report_column(base::ColumnId id) {
    const model::Column& column = m_layers.columns[id.index()];
    if (!model::conducts(column.status)) {
        return;
    }
    if (const Component* component = fed_component(m_net, m_trace, id); component != nullptr) {
        if (component->feeding == Feeding::several) {
            report_fed_twice(column, *component);
        }
        return;
    }
    if (m_layers.cables.empty()) {
        m_without_cables.push_back(id);
        return;
    }
    Finding f = finding(Rule::not_traced, untraced_severity(column.owner), AssetLayer::columns,
                        m_layers.id_text(column.id));
    f.place = column.has_place ? std::optional(column.place) : std::nullopt;
    f.message = "Column " + f.asset_id + " is not traced: " + kTreatAsLive + ".";
    if (column.owner == Owner::council) {
        f.fix = "Survey the cable that feeds it, or correct the cable ends nearby (see gaps).";
    }
    m_findings.add(std::move(f));
}

/// Records of lights alone: that nothing is traced is one thing to know, not one for each of them.
void Reporter::report_without_cables() {
    if (m_without_cables.empty()) {
        return;
    }
    const bool any_of_council = std::ranges::any_of(m_without_cables, [this](base::ColumnId id) {
        return m_layers.columns[id.index()].owner == Owner::council;
    });
    const model::Column& first = m_layers.columns[m_without_cables.front().index()];
    Finding f = finding(Rule::not_traced, any_of_council ? Severity::fail : Severity::note,
                        AssetLayer::columns, m_layers.id_text(first.id));
    f.place = first.has_place ? std::optional(first.place) : std::nullopt;
    f.count = static_cast<std::int64_t>(m_without_cables.size());
    f.message = "There are no cables on record: " + std::to_string(m_without_cables.size()) +
                (m_without_cables.size() == 1 ? " column is" : " columns are") +
                " not traced, from column " + f.asset_id + " on: " + kTreatAsLive + ".";
    f.fix = "Add the layer of cables, or record for each column what feeds it.";
    m_findings.add(std::move(f));
}

std::string Reporter::source_name(InfeedId id) const {
    if (const auto main = m_net.main_of(id)) {
        return "main " + m_layers.id_text(m_layers.mains[main->index()].id);
    }
    const network::Way& way = m_net.ways[m_net.way_of(id)->index()];
    return m_layers.id_text(m_layers.supplies[way.supply.index()].id) + "/" +
           m_layers.id_text(way.name);
}

void Reporter::report_fed_twice(const model::Column& column, const Component& component) {
    Finding f = finding(Rule::fed_twice, Severity::danger, AssetLayer::columns,
                        m_layers.id_text(column.id));
    f.place = column.place;
    std::vector<std::string> names;
    for (const InfeedId r : m_trace.infeeds_of(component)) {
        names.push_back(source_name(r));
    }
    std::ranges::sort(names);
    f.value = static_cast<double>(names.size());
    f.unit = "supplies";
    f.message = "Column " + f.asset_id + " has paths to more than one supply (" +
                base::listed(names, 4) + "): opening one leaves it fed by the other.";
    f.fix = "Find the open point between them on site and record it in terminations.";
    m_findings.add(std::move(f));
}

void Reporter::report_cable(base::CableId id) {
    const model::Cable& cable = m_layers.cables[id.index()];
    const std::uint32_t first = m_net.snapped.first_section[id.index()];
    const std::uint32_t last = m_net.snapped.first_section[id.index() + 1];
    if (!model::conducts(cable.status) || first == last) {
        return;
    }
    for (std::uint32_t s = first; s < last; ++s) {
        const Component* component = m_trace.find(m_net.section_from[s]);
        LW_ASSERT(component != nullptr);
        if (component->infeed_count > 0) {
            return;
        }
    }
    Finding f = finding(Rule::not_traced, untraced_severity(cable.owner), AssetLayer::cables,
                        m_layers.id_text(cable.id));
    f.place = m_net.snapped.nodes[m_net.snapped.sections[first].from.index()].place;
    f.message = "Cable " + f.asset_id + " is not traced: " + kTreatAsLive + ".";
    if (cable.owner == Owner::council) {
        f.fix = "Correct the cable's ends, or record the supply that feeds it.";
    }
    m_findings.add(std::move(f));
}

Finding Reporter::at_cable(Rule rule, base::SectionId section) const {
    const network::Section& s = m_net.snapped.sections[section.index()];
    Finding f = finding(rule, Severity::danger, AssetLayer::cables,
                        m_layers.id_text(m_layers.cables[s.cable.index()].id));
    f.place = m_net.snapped.nodes[s.from.index()].place;
    return f;
}

void Reporter::report_joined_supplies(const Component& component) {
    std::map<network::Origin, std::uint32_t> numbers;
    const auto group_of = [&](InfeedId id) {
        return numbers.try_emplace(m_net.origin_of(id), static_cast<std::uint32_t>(numbers.size()))
            .first->second;
    };
    std::set<base::CableId> told;
    for (const base::SectionId s :
         meeting_sections(m_layers, m_net, m_trace, component, group_of)) {
        if (!told.insert(m_net.snapped.sections[s.index()].cable).second) {
            continue;
        }
        Finding f = at_cable(Rule::supplies_joined, s);
        f.count = component.columns;
        f.message = "Cable " + f.asset_id + " joins " +
                    source_name(m_trace.infeeds_of(component)[0]) +
                    " to another supply, as recorded: each feeds back into the other.";
        f.fix = "Find the open point on site and record it in terminations.";
        m_findings.add(std::move(f));
    }
}

Phase Reporter::phase_of_infeed(InfeedId id) const {
    const auto row = m_net.row_of(id);
    return row.has_value() ? m_layers.ways[row->index()].phase : Phase::unknown;
}

/// What is said of a cable that joins feeds is to be read at every column that hangs on them.
void Reporter::add_columns(Finding& finding, const Component& component) const {
    for (const base::VertexId v : m_trace.vertices(component)) {
        const base::NodeId node = m_net.node_of(v);
        const network::Node& n = m_net.snapped.nodes[node.index()];
        if (n.kind == NodeKind::column && v.index() == node.index()) {
            finding.concerns.push_back({AssetLayer::columns, n.asset});
        }
    }
    for (const InfeedId infeed : m_trace.infeeds_of(component)) {
        if (const auto way = m_net.way_of(infeed)) {
            finding.concerns.push_back(
                {AssetLayer::ways, static_cast<std::uint32_t>(way->index())});
        }
    }
}

/// Two ways of one supply on one phase: drawing the fuse of one leaves all of it live.
void Reporter::report_joined_ways(const Component& component) {
    const auto group_of = [](InfeedId id) { return static_cast<std::uint32_t>(id.index()); };
    std::vector<std::string> names;
    for (const InfeedId infeed : m_trace.infeeds_of(component)) {
        names.push_back(source_name(infeed));
    }
    std::set<base::CableId> told;
    for (const base::SectionId s :
         meeting_sections(m_layers, m_net, m_trace, component, group_of)) {
        if (!told.insert(m_net.snapped.sections[s.index()].cable).second) {
            continue;
        }
        Finding f = at_cable(Rule::ways_joined, s);
        f.supply_id = m_layers.id_text(
            m_layers.supplies[m_net.supply_of(m_trace.infeeds_of(component)[0])->index()].id);
        f.value = component.infeed_count;
        f.unit = "ways";
        f.count = component.columns;
        f.message = "Cable " + f.asset_id + " joins " + base::listed(names, 4) +
                    ", as recorded: with the fuse of one drawn, the other keeps all of it live.";
        f.fix = "Find the open point on site and record it in terminations.";
        if (told.size() == 1) { // of many the first speaks for all
            add_columns(f, component);
        }
        m_findings.add(std::move(f));
    }
}

/// True if ways of different phases are joined.
bool Reporter::report_joined_phases(const Component& component) {
    std::set<Phase> phases;
    for (const InfeedId r : m_trace.infeeds_of(component)) {
        phases.insert(phase_of_infeed(r));
    }
    phases.erase(Phase::unknown);
    if (phases.size() < 2) {
        return false;
    }
    const auto group_of = [&](InfeedId id) {
        return static_cast<std::uint32_t>(phase_of_infeed(id));
    };
    std::set<base::CableId> told;
    for (const base::SectionId s :
         meeting_sections(m_layers, m_net, m_trace, component, group_of)) {
        if (!told.insert(m_net.snapped.sections[s.index()].cable).second) {
            continue;
        }
        Finding f = at_cable(Rule::phases_joined, s);
        f.message = "Cable " + f.asset_id +
                    " joins ways of different phases, as recorded: a short circuit if true.";
        f.fix = "Find the open point on site, or correct the phase of the ways.";
        if (told.size() == 1) { // of many the first speaks for all
            add_columns(f, component);
        }
        m_findings.add(std::move(f));
    }
    return true;
}

/// Phase that a cable carries: that of the one way that feeds it, else of the way at an infeed of
/// its component with the cable's own label.
Phase Reporter::phase_of_section(std::size_t section) const {
    if (!m_net.section_from[section].is_valid()) {
        return Phase::unknown;
    }
    const Component* component = m_trace.find(m_net.section_from[section]);
    LW_ASSERT(component != nullptr);
    if (component->infeed_count == 1) {
        return phase_of_infeed(m_trace.infeeds_of(*component)[0]);
    }
    const base::TextId label =
        m_layers.cables[m_net.snapped.sections[section].cable.index()].circuit;
    for (const InfeedId r : m_trace.infeeds_of(*component)) {
        const auto way = m_net.way_of(r);
        if (label.is_valid() && way.has_value() && m_net.ways[way->index()].circuit == label) {
            return phase_of_infeed(r);
        }
    }
    return Phase::unknown;
}

void Reporter::report_phases_in_columns() {
    std::vector<std::uint8_t> seen(m_layers.columns.size(), 0); // a bit for each phase
    const auto note = [&](base::NodeId node, Phase phase) {
        const network::Node& n = m_net.snapped.nodes[node.index()];
        if (n.kind == NodeKind::column && phase != Phase::unknown) {
            seen[n.asset] =
                static_cast<std::uint8_t>(seen[n.asset] | (1U << static_cast<unsigned>(phase)));
        }
    };
    for (std::size_t s = 0; s < m_net.snapped.sections.size(); ++s) {
        const Phase phase = phase_of_section(s);
        note(m_net.snapped.sections[s].from, phase);
        note(m_net.snapped.sections[s].to, phase);
    }
    for (std::size_t c = 0; c < seen.size(); ++c) {
        if (std::popcount(seen[c]) < 2) {
            continue;
        }
        const model::Column& column = m_layers.columns[c];
        Finding f = finding(Rule::two_phases_in_column, Severity::warning, AssetLayer::columns,
                            m_layers.id_text(column.id));
        f.place = column.place;
        f.message = "Cables of two phases end in column " + f.asset_id + ": 400 V is present.";
        f.fix = "Check the phases on site; a warning label is needed where two are present.";
        m_findings.add(std::move(f));
    }
}

} // namespace

void report_feeding(const model::Layers& layers, const network::Network& network,
                    const Trace& trace, base::FindingSink& findings) {
    Reporter(layers, network, trace, findings).run();
}

} // namespace loopwalk::trace
