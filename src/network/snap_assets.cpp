// Assets as nodes, and which of them lie beside which stretch of cable: one query of the index for
// each run of segments serves rule 1 and rule 3.
#include "snap_steps.hpp"
#include <algorithm>

namespace loopwalk::network::snapping {

namespace {

template <class Asset>
std::vector<NodeId> add_nodes(Snapped& out, NodeKind kind, const std::vector<Asset>& assets) {
    std::vector<NodeId> node_of(assets.size());
    for (std::size_t i = 0; i < assets.size(); ++i) {
        if (!assets[i].has_place) {
            continue;
        }
        node_of[i] = NodeId(out.nodes.size());
        out.nodes.push_back({kind, static_cast<std::uint32_t>(i), assets[i].place, {}});
    }
    return node_of;
}

gis::BoxIndex index_of(const std::vector<Node>& nodes) {
    std::vector<base::Box> boxes;
    boxes.reserve(nodes.size());
    for (const Node& node : nodes) {
        boxes.push_back(box_around(node.place, 0.0));
    }
    return gis::BoxIndex(boxes);
}

bool is_within(std::span<const Point2> line, Point2 place, double distance) {
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        if (!is_far(place, line[i], line[i + 1], distance) &&
            base::nearest_on_segment(place, line[i], line[i + 1]).distance <= distance) {
            return true;
        }
    }
    return false;
}

} // namespace

void add_asset_nodes(Work& work) {
    Snapped& out = work.out;
    out.nodes.reserve(work.layers.supplies.size() + work.layers.columns.size() +
                      work.layers.joints.size());
    out.supply_node = add_nodes(out, NodeKind::supply, work.layers.supplies);
    out.column_node = add_nodes(out, NodeKind::column, work.layers.columns);
    out.joint_node = add_nodes(out, NodeKind::joint, work.layers.joints);
    work.asset_count = static_cast<std::uint32_t>(out.nodes.size());
    work.assets.emplace(index_of(out.nodes));
}

void find_assets_beside_parts(Work& work, base::Progress& progress) {
    // A little further than snap, so that the other half of a tie is seen as well.
    const double far = work.snap + kTie + kSlack;
    std::vector<std::uint32_t> found;
    progress.stage("joining cable ends", work.layers.parts.size());
    work.first_hit.reserve(std::size_t{work.first_run.back()} + 1);
    work.first_hit.push_back(0);
    for (std::size_t p = 0; p < work.layers.parts.size(); ++p) {
        for (std::uint32_t run = work.first_run[p]; run < work.first_run[p + 1]; ++run) {
            const std::span<const Point2> line = work.run_line(PartId(p), run);
            work.assets->query(widened(base::box_of(line), far), found);
            for (const std::uint32_t node : found) {
                if (is_within(line, work.out.nodes[node].place, far)) {
                    work.hits.emplace_back(node);
                }
            }
            work.first_hit.push_back(static_cast<std::uint32_t>(work.hits.size()));
        }
        progress.step(p);
    }
}

} // namespace loopwalk::network::snapping
