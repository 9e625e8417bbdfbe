// The steps of snapping, in their order. The rules, word for word: docs/snapping.md.
#pragma once

#include "snap_work.hpp"

namespace loopwalk::network::snapping {

/// Every supply, column and joint with a place becomes a node.
void add_asset_nodes(Work& work);

/// Fills the hits of every run.
void find_assets_beside_parts(Work& work, base::Progress& progress);

/// Rule 1.
void join_ends_to_assets(Work& work);

/// Rule 2. Gives the ends that are at derived nodes, by (cable, x, y).
[[nodiscard]] std::vector<EndId> cluster_ends(Work& work);

/// Rule 3.
void cut_at_assets(Work& work, base::Progress& progress);

/// What may still be joined to a cable: a conducting end alone at its derived node, or an asset
/// in use that no conducting cable reaches.
struct Seeker {
    NodeId node;
    EndId end; ///< invalid: an asset
};

/// A run of a conducting cable within reach of a seeker.
struct NearRun {
    std::uint32_t seeker = 0;
    std::uint32_t run = 0;
    PartId part;
    double start = 0.0; ///< measure of the run's first vertex
};

struct RunsInReach {
    std::vector<Seeker> seekers;      ///< ends by (cable, x, y), then assets by node
    std::vector<std::uint32_t> first; ///< per seeker, and the count
    std::vector<NearRun> runs;        ///< by (seeker, run)
    [[nodiscard]] std::span<const NearRun> of(std::size_t seeker) const {
        return {runs.data() + first[seeker], first[seeker + 1] - first[seeker]};
    }
};
[[nodiscard]] RunsInReach find_runs_in_reach(const Work& work, const std::vector<EndId>& derived,
                                             base::Progress& progress);

/// Rule 4.
void tee_ends(Work& work, const std::vector<EndId>& derived, const RunsInReach& near);

/// Per node: whether a conducting cable ends or is cut there.
[[nodiscard]] std::vector<bool> nodes_in_use(const Work& work);

/// Sections, and the names of derived nodes.
void build_sections(Work& work);

void list_moves(Work& work);
void find_main_taps(Work& work, const std::vector<EndId>& derived);

/// Loose ends and gaps, and their findings.
void find_gaps(Work& work, const std::vector<EndId>& derived, const RunsInReach& near,
               base::FindingSink& findings);

/// Findings tee-assumed and cut-assumed, from the cuts.
void report_joins(const Work& work, base::FindingSink& findings);

void report_ambiguities(Work& work, base::FindingSink& findings);

} // namespace loopwalk::network::snapping
