#include "snap_report.hpp"

#include "loopwalk/base/text.hpp"

#include "snap_steps.hpp"
#include <algorithm>
#include <tuple>

namespace loopwalk::network::snapping {

namespace {

using base::Finding;
using base::Rule;
using base::Severity;

std::string cable_name(const Work& work, CableId id) {
    return "cable " + work.layers.id_text(work.cable(id).id);
}

std::string node_words(const Work& work, NodeId id) {
    const Node& node = work.out.nodes[id.index()];
    const std::string name = node_name(work.layers, node);
    switch (node.kind) {
    case NodeKind::supply:
        return "supply " + name;
    case NodeKind::column:
        return "column " + name;
    case NodeKind::joint:
        return "joint " + name;
    case NodeKind::derived:
        break;
    }
    return "the cable end at " + name;
}

std::string metres(double value) {
    return base::fixed_text(value, 2) + " m";
}

Finding at_cable(const Work& work, Rule rule, Severity severity, CableId cable, Point2 place) {
    Finding finding;
    finding.rule = rule;
    finding.severity = severity;
    finding.layer = base::AssetLayer::cables;
    finding.asset_id = work.layers.id_text(work.cable(cable).id);
    finding.place = place;
    return finding;
}

Finding near_miss(const Work& work, CableId cable, const Gap& gap, std::int64_t count) {
    Finding finding = at_cable(work, Rule::near_miss, Severity::warning, cable, gap.from_place);
    const std::string what =
        gap.to.is_valid() ? node_words(work, gap.to) : cable_name(work, gap.to_cable);
    finding.value = gap.distance_m;
    finding.limit = work.snap;
    finding.unit = "m";
    finding.count = count;
    finding.message = "An end of " + cable_name(work, cable) + " misses " + what + " by " +
                      metres(gap.distance_m) + ".";
    finding.fix = "Check on site whether they are joined and correct the drawing.";
    return finding;
}

/// Cuts of one kind made on, or for, one cable.
struct Joins {
    CableId cable;
    MoveKind kind{};
    NodeId node; ///< of the first
    Point2 place;
    double moved = 0.0; ///< the largest
    CableId host;       ///< of the first tee
    std::int64_t count = 0;
};

std::string joins_message(const Work& work, const Joins& joins) {
    const std::string more =
        joins.count > 1 ? ", and " + std::to_string(joins.count - 1) + " more" : std::string();
    const std::string at_most =
        (joins.count > 1 ? " (at most " : " (") + metres(joins.moved) + " away)";
    if (joins.kind == MoveKind::tee_assumed) {
        return "An end of " + cable_name(work, joins.cable) + " is taken to tee into " +
               cable_name(work, joins.host) + more + at_most + "; no joint is recorded there.";
    }
    return "Cable " + work.layers.id_text(work.cable(joins.cable).id) + " is drawn past " +
           node_words(work, joins.node) + more + at_most +
           " and is taken to loop in and out there.";
}

Finding finding_of(const Work& work, const Joins& joins) {
    const bool is_tee = joins.kind == MoveKind::tee_assumed;
    Finding finding = at_cable(work, is_tee ? Rule::tee_assumed : Rule::cut_assumed, Severity::note,
                               joins.cable, joins.place);
    finding.value = joins.moved;
    finding.unit = "m";
    finding.count = joins.count;
    finding.message = joins_message(work, joins);
    finding.fix = is_tee ? "Record the joint, or correct the cable's end."
                         : "Split the cable where it ends, or correct its line.";
    return finding;
}

/// The cable whose end was led to each teed node, by node.
std::vector<std::pair<NodeId, EndId>> teed_ends(const Work& work) {
    std::vector<std::pair<NodeId, EndId>> teed;
    for (std::size_t i = 0; i < work.ends.size(); ++i) {
        if (work.ends[i].outcome == EndOutcome::teed) {
            teed.emplace_back(work.ends[i].node, EndId(i));
        }
    }
    std::sort(teed.begin(), teed.end());
    return teed;
}

std::vector<Joins> joins_of(const Work& work) {
    const std::vector<std::pair<NodeId, EndId>> teed = teed_ends(work);
    std::vector<Joins> joins;
    for (const Cut& cut : work.cuts) {
        const CableId host = work.cable_of(cut.part);
        Joins join{host, cut.kind, cut.node, cut.from, cut.moved, host, 1};
        if (cut.kind == MoveKind::tee_assumed) {
            const auto end =
                std::lower_bound(teed.begin(), teed.end(), std::pair(cut.node, EndId(0)));
            join.cable = work.cable_of(end->second);
            join.moved = base::distance(work.drawn_place(end->second), cut.from);
        }
        joins.push_back(join);
    }
    std::stable_sort(joins.begin(), joins.end(), [](const Joins& a, const Joins& b) {
        return std::tie(a.cable, a.kind) < std::tie(b.cable, b.kind);
    });
    return joins;
}

} // namespace

void NearMissReport::add(CableId cable, const Gap& gap, base::FindingSink& findings) {
    if (cable != m_cable) {
        finish(findings);
    }
    m_cable = cable;
    if (m_missing == 0 || gap.distance_m < m_nearest.distance_m) {
        m_nearest = gap;
    }
    ++m_missing;
}

void NearMissReport::finish(base::FindingSink& findings) {
    if (m_missing > 0) {
        findings.add(near_miss(m_work, m_cable, m_nearest, m_missing));
    }
    m_missing = 0;
}

void report_joins(const Work& work, base::FindingSink& findings) {
    std::optional<Joins> sum;
    for (const Joins& next : joins_of(work)) {
        if (sum.has_value() && sum->cable == next.cable && sum->kind == next.kind) {
            sum->moved = std::max(sum->moved, next.moved);
            ++sum->count;
            continue;
        }
        if (sum.has_value()) {
            findings.add(finding_of(work, *sum));
        }
        sum = next;
    }
    if (sum.has_value()) {
        findings.add(finding_of(work, *sum));
    }
}

} // namespace loopwalk::network::snapping
