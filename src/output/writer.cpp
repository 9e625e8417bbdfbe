#include "writer.hpp"

#include "loopwalk/base/error.hpp"

#include "fields.hpp"

namespace loopwalk::output {

std::string_view cover_name(protection::Cover cover) noexcept {
    using Cover = protection::Cover;
    switch (cover) {
    case Cover::clears:
        return "clears";
    case Cover::does_not_clear:
        return "does not clear";
    case Cover::undecided:
        return "undecided";
    case Cover::no_device:
        return "no device";
    }
    return "";
}

std::string with_worst(const checks::AssetStanding& standing, protection::Verdict verdict,
                       const std::string& why) {
    const bool tells_all =
        verdict == protection::Verdict::fails && standing.severity != base::Severity::danger;
    if (!standing.is_bad() || tells_all) {
        return why;
    }
    return std::string(base::severity_name(standing.severity)) + ": " +
           std::string(base::rule_name(standing.rule)) + " (see findings)" +
           (why.empty() ? "" : "; " + why);
}

Writer::Writer(const Results& all, input::Source& source, protection::Judge& judge_again,
               gis::OutputDataset& out, base::Progress& progress)
    : results(all), layers(all.layers()), net(all.network), judge(judge_again),
      explain(all.layers(), all.catalogue, all.network, all.trace, all.figures), m_source(source),
      m_out(out), m_progress(progress), m_to_cables(all.read.working, all.read.cables),
      m_ohms(all.layers(), all.catalogue, all.job.rules, all.assumptions, all.network) {}

void Writer::run() {
    copy_columns();
    copy_cables();
    copy_supplies();
    copy_ways();
    copy_others();
    write_sections();
    write_circuits();
    write_fuse_cover();
    write_cable_ends();
    write_findings();
    write_gaps();
    write_moves();
    write_survey();
    write_suspects();
    write_completeness();
    write_run();
}

std::string Writer::node_name(base::NodeId node) const {
    return network::node_name(layers, net.snapped.nodes[node.index()]);
}

std::string Writer::supply_of(const trace::Component& component) const {
    return component.infeed_count == 0 || component.feeding == trace::Feeding::several
               ? std::string{}
               : explain.supply_name(results.trace.infeeds_of(component)[0]);
}

std::string Writer::way_of(const trace::Component& component) const {
    return component.infeed_count == 1 ? explain.way_name(results.trace.infeeds_of(component)[0])
                                       : std::string{};
}

base::Polyline Writer::in_output_crs(base::Polyline line) const {
    if (!m_to_cables.apply(line)) {
        throw base::InternalError("a place of the network cannot be transformed back");
    }
    return line;
}

base::Point2 Writer::place(base::Point2 working) const {
    return in_output_crs({working}).front();
}

base::Polyline Writer::line_of(base::SectionId id) const {
    base::Polyline line =
        network::section_line(layers, net.snapped, net.snapped.sections[id.index()]);
    if (results.figures.sections[id.index()].is_reversed) {
        line = base::Polyline(line.rbegin(), line.rend()); // it runs downstream
    }
    return in_output_crs(std::move(line));
}

std::vector<base::Polyline> Writer::lines_of(std::span<const std::uint32_t> sections) const {
    std::vector<base::Polyline> lines;
    lines.reserve(sections.size());
    for (const std::uint32_t section : sections) {
        lines.push_back(line_of(base::SectionId(section)));
    }
    return lines;
}

void write_layers(const Results& results, input::Source& source, protection::Judge& judge,
                  gis::OutputDataset& out, base::Progress& progress) {
    Writer(results, source, judge, out, progress).run();
}

} // namespace loopwalk::output
