// Which runs of cable lie near the few points that still seek something to join: the points are
// indexed, not the cables, for there are far fewer of them.
#include "snap_steps.hpp"
#include <algorithm>
#include <tuple>

namespace loopwalk::network::snapping {

namespace {

bool may_have_gap(const Work& work, const Node& node) {
    switch (node.kind) {
    case NodeKind::supply:
        return model::conducts(work.layers.supplies[node.asset].status);
    case NodeKind::column:
        return model::conducts(work.layers.columns[node.asset].status) &&
               work.layers.columns[node.asset].owner != model::Owner::distributor;
    case NodeKind::joint:
    case NodeKind::derived:
        break;
    }
    return false;
}

std::vector<Seeker> find_seekers(const Work& work, const std::vector<EndId>& derived) {
    std::vector<std::uint8_t> ends_at(work.out.nodes.size(), 0); // 0, 1 or 2 for more
    for (const EndId id : derived) {
        std::uint8_t& count = ends_at[work.end(id).node.index()];
        count = count == 0 ? 1 : 2;
    }
    std::vector<Seeker> seekers;
    for (const EndId id : derived) {
        if (const End& end = work.end(id);
            end.outcome == EndOutcome::derived && ends_at[end.node.index()] == 1) {
            seekers.push_back({end.node, id});
        }
    }
    const std::vector<bool> in_use = nodes_in_use(work);
    for (std::size_t i = 0; i < work.asset_count; ++i) {
        if (!in_use[i] && may_have_gap(work, work.out.nodes[i])) {
            seekers.push_back({NodeId(i), {}});
        }
    }
    return seekers;
}

class RunFinder {
  public:
    RunFinder(const Work& work, RunsInReach& result)
        : m_work(work), m_result(result), m_far(std::max(work.reach, work.snap) + kSlack),
          m_index(boxes(work, result.seekers)) {}
    void find_along(PartId part);

  private:
    static std::vector<base::Box> boxes(const Work& work, const std::vector<Seeker>& seekers) {
        std::vector<base::Box> result;
        result.reserve(seekers.size());
        for (const Seeker& seeker : seekers) {
            result.push_back(box_around(work.place(seeker.node), 0.0));
        }
        return result;
    }

    const Work& m_work;
    RunsInReach& m_result;
    double m_far;
    gis::BoxIndex m_index;
    std::vector<std::uint32_t> m_found;
};

void RunFinder::find_along(PartId part) {
    double measure = 0.0;
    for (std::uint32_t run = m_work.first_run[part.index()];
         run < m_work.first_run[part.index() + 1]; ++run) {
        const std::span<const Point2> line = m_work.run_line(part, run);
        m_index.query(widened(base::box_of(line), m_far), m_found);
        for (const std::uint32_t seeker : m_found) {
            const Point2 place = m_work.place(m_result.seekers[seeker].node);
            if (base::nearest_on_line(place, line).distance <= m_far) {
                m_result.runs.push_back({seeker, run, part, measure});
            }
        }
        measure += base::length(line);
    }
}

void sort_by_seeker(RunsInReach& near) {
    std::sort(near.runs.begin(), near.runs.end(), [](const NearRun& a, const NearRun& b) {
        return std::tie(a.seeker, a.run) < std::tie(b.seeker, b.run);
    });
    near.first.assign(near.seekers.size() + 1, 0);
    for (const NearRun& run : near.runs) {
        ++near.first[run.seeker + 1];
    }
    for (std::size_t i = 1; i < near.first.size(); ++i) {
        near.first[i] += near.first[i - 1];
    }
}

} // namespace

std::vector<bool> nodes_in_use(const Work& work) {
    std::vector<bool> in_use(work.out.nodes.size(), false);
    for (std::size_t i = 0; i < work.ends.size(); ++i) {
        if (work.conducts(work.cable_of(EndId(i)))) {
            in_use[work.ends[i].node.index()] = true;
        }
    }
    for (const Cut& cut : work.cuts) {
        in_use[cut.node.index()] = true;
    }
    return in_use;
}

RunsInReach find_runs_in_reach(const Work& work, const std::vector<EndId>& derived,
                               base::Progress& progress) {
    RunsInReach near;
    near.seekers = find_seekers(work, derived);
    if (!near.seekers.empty()) {
        RunFinder finder(work, near);
        progress.stage("looking for tees and gaps", work.layers.parts.size());
        for (std::size_t p = 0; p < work.layers.parts.size(); ++p) {
            if (work.conducts(work.cable_of(PartId(p)))) {
                finder.find_along(PartId(p));
            }
            progress.step(p);
        }
    }
    sort_by_seeker(near);
    return near;
}

} // namespace loopwalk::network::snapping
