#include "snap_work.hpp"

#include <tuple>

namespace loopwalk::network::snapping {

namespace {

std::vector<std::uint32_t> first_runs(const std::vector<model::Part>& parts) {
    std::vector<std::uint32_t> first(parts.size() + 1, 0);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const std::uint32_t segments = parts[i].vertex_count - 1;
        first[i + 1] = first[i] + (segments + kRunSegments - 1) / kRunSegments;
    }
    return first;
}

} // namespace

bool comes_before(const Cut& a, const Cut& b) noexcept {
    return std::tie(a.part, a.measure, a.node) < std::tie(b.part, b.measure, b.node);
}

Work::Work(const model::Layers& records, const SnapSettings& settings)
    : layers(records), snap(settings.snap.value()), reach(settings.reach.value()),
      ends(records.parts.size() * 2), first_run(first_runs(records.parts)) {}

Point2 Work::drawn_place(EndId id) const {
    const std::span<const Point2> vertices = line(part_of(id));
    return id == first_end(part_of(id)) ? vertices.front() : vertices.back();
}

std::span<const Point2> Work::run_line(PartId id, std::uint32_t run) const {
    const std::size_t start = std::size_t{run - first_run[id.index()]} * kRunSegments;
    const std::span<const Point2> rest = line(id).subspan(start);
    return rest.first(std::min<std::size_t>(rest.size(), kRunSegments + 1));
}

NodeId Work::add_derived_node(Point2 at) {
    const NodeId id(out.nodes.size());
    out.nodes.push_back({.kind = NodeKind::derived, .asset = 0, .place = at, .named_by = {}});
    return id;
}

base::Box box_around(Point2 place, double distance) noexcept {
    return widened({place.x, place.y, place.x, place.y}, distance);
}

base::Box widened(base::Box box, double distance) noexcept {
    return {box.min_x - distance, box.min_y - distance, box.max_x + distance, box.max_y + distance};
}

} // namespace loopwalk::network::snapping
