#include "loopwalk/network/snap.hpp"

#include "loopwalk/base/text.hpp"

#include "piece_line.hpp"
#include "snap_steps.hpp"
#include <utility>

namespace loopwalk::network {

namespace snapping {

namespace {

Snapped run_steps(Work& work, base::FindingSink& findings, base::Progress& progress) {
    add_asset_nodes(work);
    find_assets_beside_parts(work, progress);
    join_ends_to_assets(work);
    const std::vector<EndId> derived = cluster_ends(work);
    cut_at_assets(work, progress);
    const RunsInReach near = find_runs_in_reach(work, derived, progress);
    tee_ends(work, derived, near);
    build_sections(work);
    list_moves(work);
    find_main_taps(work, derived);
    find_gaps(work, derived, near, findings);
    report_joins(work, findings);
    report_ambiguities(work, findings);
    return std::move(work.out);
}

} // namespace

} // namespace snapping

Snapped snap(const model::Layers& layers, const SnapSettings& settings, base::FindingSink& findings,
             base::Progress& progress) {
    snapping::Work work(layers, settings);
    return snapping::run_steps(work, findings, progress);
}

base::Polyline section_line(const model::Layers& layers, const Snapped& snapped,
                            const Section& section) {
    const snapping::MeasuredLine part(layers.line(layers.parts[section.part.index()]));
    snapping::PieceLine piece;
    draw_piece(part, {section.from_measure, snapped.nodes[section.from.index()].place},
               {section.to_measure, snapped.nodes[section.to.index()].place}, piece);
    return std::move(piece.points);
}

std::string node_name(const model::Layers& layers, const Node& node) {
    switch (node.kind) {
    case NodeKind::supply:
        return layers.id_text(layers.supplies[node.asset].id);
    case NodeKind::column:
        return layers.id_text(layers.columns[node.asset].id);
    case NodeKind::joint:
        return layers.id_text(layers.joints[node.asset].id);
    case NodeKind::derived:
        break;
    }
    return layers.id_text(layers.cables[node.named_by.index()].id) + "@" +
           base::fixed_text(node.named_at_m, 2);
}

} // namespace loopwalk::network
