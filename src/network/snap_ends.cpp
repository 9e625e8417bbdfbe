// Rule 1: ends go to the nearest asset.
#include "snap_steps.hpp"
#include <limits>

namespace loopwalk::network::snapping {

namespace {

struct Nearest {
    NodeId asset; ///< invalid: none within snap
    double distance = std::numeric_limits<double>::infinity();
    bool is_tie = false;
};

Nearest nearest_asset(const Work& work, Point2 place, std::span<const NodeId> assets) {
    Nearest best;
    for (const NodeId asset : assets) {
        const double distance = base::distance(place, work.place(asset));
        if (work.within_snap(distance) && distance < best.distance) {
            best = {asset, distance};
        }
    }
    for (const NodeId asset : assets) {
        if (asset != best.asset &&
            base::distance(place, work.place(asset)) <= best.distance + kTie) {
            best.is_tie = best.asset.is_valid();
        }
    }
    return best;
}

void join_end(Work& work, EndId id, std::uint32_t run) {
    End& end = work.end(id);
    const Point2 place = work.drawn_place(id);
    const Nearest nearest = nearest_asset(work, place, work.hits_of(run));
    const CableId cable = work.cable_of(id);
    if (nearest.asset.is_valid() && !nearest.is_tie) {
        end = {nearest.asset, EndOutcome::at_asset};
    } else if (!work.conducts(cable)) {
        end.outcome = EndOutcome::idle;
    } else if (nearest.is_tie) {
        end.outcome = EndOutcome::ambiguous;
        work.ambiguities.push_back(
            {cable, AmbiguityKind::equal_assets, place, nearest.distance, nearest.asset, {}});
    }
}

} // namespace

void join_ends_to_assets(Work& work) {
    for (std::size_t p = 0; p < work.layers.parts.size(); ++p) {
        join_end(work, Work::first_end(PartId(p)), work.first_run[p]);
        join_end(work, Work::last_end(PartId(p)), work.first_run[p + 1] - 1);
    }
}

} // namespace loopwalk::network::snapping
