// Cable ends that lie on a distributor's main.
#include "snap_steps.hpp"
#include <algorithm>
#include <limits>

namespace loopwalk::network::snapping {

namespace {

/// A few segments of a main's line.
struct MainRun {
    base::MainId main;
    std::span<const Point2> line;
};

std::vector<MainRun> runs_of(const std::vector<model::Main>& mains) {
    std::vector<MainRun> runs;
    for (std::size_t m = 0; m < mains.size(); ++m) {
        for (const base::Polyline& whole : mains[m].lines) {
            for (std::size_t i = 0; i + 1 < whole.size(); i += kRunSegments) {
                const std::span<const Point2> rest = std::span(whole).subspan(i);
                runs.push_back({base::MainId(m),
                                rest.first(std::min<std::size_t>(rest.size(), kRunSegments + 1))});
            }
        }
    }
    return runs;
}

class MainFinder {
  public:
    explicit MainFinder(const Work& work)
        : m_work(work), m_runs(runs_of(work.layers.mains)), m_index(boxes(m_runs)) {}
    /// The nearest main within snap, of equals the one with the smaller id; else invalid.
    [[nodiscard]] base::MainId nearest(Point2 place);

  private:
    static std::vector<base::Box> boxes(const std::vector<MainRun>& runs) {
        std::vector<base::Box> result;
        result.reserve(runs.size());
        for (const MainRun& run : runs) {
            result.push_back(base::box_of(run.line));
        }
        return result;
    }

    const Work& m_work;
    std::vector<MainRun> m_runs;
    gis::BoxIndex m_index;
    std::vector<std::uint32_t> m_found;
};

base::MainId MainFinder::nearest(Point2 place) {
    m_index.query(box_around(place, m_work.snap + kSlack), m_found);
    base::MainId best;
    double least = std::numeric_limits<double>::infinity();
    for (const std::uint32_t r : m_found) { // by main, so that of equals the first stays
        const double distance = base::nearest_on_line(place, m_runs[r].line).distance;
        if (!m_work.within_snap(distance)) {
            continue;
        }
        if (distance < least - kTie) {
            best = m_runs[r].main;
        }
        least = std::min(least, distance);
    }
    return best;
}

} // namespace

void find_main_taps(Work& work, const std::vector<EndId>& derived) {
    if (work.layers.mains.empty()) {
        return;
    }
    MainFinder finder(work);
    std::vector<NodeId> nodes;
    for (const EndId id : derived) {
        if (work.end(id).outcome != EndOutcome::idle) {
            nodes.push_back(work.end(id).node);
        }
    }
    std::sort(nodes.begin(), nodes.end());
    nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
    for (const NodeId node : nodes) {
        if (const base::MainId main = finder.nearest(work.place(node)); main.is_valid()) {
            work.out.main_taps.push_back({node, main});
        }
    }
}

} // namespace loopwalk::network::snapping
