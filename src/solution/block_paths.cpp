#include "loopwalk/solution/block_paths.hpp"

#include "loopwalk/solution/multi_feed.hpp"

#include <algorithm>
#include <functional>
#include <queue>
#include <tuple>

namespace loopwalk::solution {
namespace {

using network::NodeKind;

/// Driving-point impedances of all conductors, with the same terminals switching.
struct AllDriving {
    Driving line_hot, line_cold, earth_hot, earth_cold, neutral_hot, neutral_cold;
};

AllDriving drive_all(const BlockNetwork& network, const Switching& switching) {
    const auto drive = [&](Conductor conductor, Condition condition) {
        return network.drive(conductor, condition, switching);
    };
    return {drive(Conductor::line, Condition::hot),    drive(Conductor::line, Condition::cold),
            drive(Conductor::earth, Condition::hot),   drive(Conductor::earth, Condition::cold),
            drive(Conductor::neutral, Condition::hot), drive(Conductor::neutral, Condition::cold)};
}

Impedances impedances_at(const AllDriving& d, LocalVertex v) {
    Impedances z;
    z.hot_low = {d.line_hot.low[v], d.earth_hot.low[v], d.neutral_hot.low[v]};
    z.hot_high = {d.line_hot.high[v], d.earth_hot.high[v], d.neutral_hot.high[v]};
    z.cold_low = {d.line_cold.low[v], d.earth_cold.low[v], d.neutral_cold.low[v]};
    z.cold_high = {d.line_cold.high[v], d.earth_cold.high[v], d.neutral_cold.high[v]};
    return z;
}

/// Over the block by the shortest way: metres and columns from each terminal.
class ShortestWays {
  public:
    ShortestWays(const Block& block, const model::Layers& layers, const network::Network& net)
        : m_block(block), m_net(net), m_steps(block.vertices.size()) {
        for (const Block::Section& section : block.sections) {
            const double metres =
                section_length(layers, net.snapped.sections[section.id.index()]).value();
            m_steps[section.a].emplace_back(section.b, metres);
            m_steps[section.b].emplace_back(section.a, metres);
        }
        for (const Block::Link& link : block.links) {
            m_steps[link.a].emplace_back(link.b, 0.0);
            m_steps[link.b].emplace_back(link.a, 0.0);
        }
    }

    /// Writes run, hops and through_column, and the terminal that is nearest, into `paths`.
    std::vector<std::size_t> walk(const std::vector<Path>& starts, std::vector<Path>& paths) {
        using Entry = std::tuple<double, std::uint32_t, std::size_t, LocalVertex, bool>;
        std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
        for (std::size_t t = 0; t < starts.size(); ++t) {
            queue.emplace(starts[t].run_m, starts[t].hops, t, m_block.terminals[t].vertex,
                          starts[t].through_column);
        }
        std::vector<std::size_t> nearest(paths.size(), 0);
        std::vector<bool> done(paths.size(), false);
        while (!queue.empty()) {
            const auto [metres, hops, terminal, vertex, through] = queue.top();
            queue.pop();
            if (done[vertex]) {
                continue;
            }
            done[vertex] = true;
            nearest[vertex] = terminal;
            paths[vertex].run_m = metres;
            paths[vertex].hops = hops;
            paths[vertex].through_column = through;
            for (const auto& [next, length] : m_steps[vertex]) {
                const bool leaves = node_of(vertex) != node_of(next);
                queue.emplace(metres + length, hops + (leaves && is_column(next) ? 1U : 0U),
                              terminal, next, through || (leaves && is_column(vertex)));
            }
        }
        return nearest;
    }

  private:
    [[nodiscard]] base::NodeId node_of(LocalVertex v) const {
        return m_net.node_of(m_block.vertices[v]);
    }
    [[nodiscard]] bool is_column(LocalVertex v) const {
        return m_net.snapped.nodes[node_of(v).index()].kind == NodeKind::column;
    }

    const Block& m_block;
    const network::Network& m_net;
    std::vector<std::vector<std::pair<LocalVertex, double>>> m_steps;
};

/// Terminals whose loop alone is the highest, by vertex; no choice with one terminal. One whose
/// source is not known comes last: there is nothing to judge by from there.
std::vector<std::size_t> weakest(const std::vector<AllDriving>& alone,
                                 const std::vector<Path>& starts, std::size_t vertices) {
    std::vector<std::size_t> result(vertices, 0);
    for (LocalVertex v = 0; v < vertices; ++v) {
        std::pair highest(false, -1.0);
        for (std::size_t t = 0; t < alone.size(); ++t) {
            const Complex loop = alone[t].line_hot.high[v] + alone[t].earth_hot.high[v];
            const std::pair from(starts[t].is_source_known,
                                 starts[t].source_high.value() + std::abs(loop));
            if (from > highest) {
                highest = from;
                result[v] = t;
            }
        }
    }
    return result;
}

void add_block(Path& path, const AllDriving& driving, LocalVertex v) {
    path.z += impedances_at(driving, v);
    if (driving.earth_hot.sure[v] == 0) {
        path.earth =
            std::max(path.earth, driving.earth_hot.possible[v] != 0 ? EarthPathState::unknown
                                                                    : EarthPathState::broken);
    }
    if (driving.neutral_hot.sure[v] == 0) {
        path.neutral = driving.neutral_hot.possible[v] != 0 && path.neutral != Presence::no
                           ? Presence::unknown
                           : Presence::no;
    }
}

} // namespace

std::vector<Path> paths_into(const BlockNetwork& network, const PathMaker& maker,
                             const model::Layers& layers, const network::Network& net,
                             const std::vector<Path>& starts) {
    const Block& block = network.block();
    const std::size_t count = block.vertices.size();
    std::vector<AllDriving> alone;
    const bool is_followed = starts.size() <= MultiFeed::kMostFollowed;
    if (!is_followed) { // all terminals together: no verdict rests on it (clearing_sequence.cpp)
        alone.push_back(drive_all(network, {}));
    }
    for (std::size_t t = 0; is_followed && t < starts.size(); ++t) {
        Switching switching;
        switching.off.assign(starts.size(), 1);
        switching.off[t] = 0;
        alone.push_back(drive_all(network, switching));
    }
    const auto known = std::ranges::find_if(starts, &Path::is_source_known);
    const auto first_known =
        static_cast<std::size_t>(known != starts.end() ? known - starts.begin() : 0);
    const std::vector<std::size_t> from =
        is_followed ? weakest(alone, starts, count) : std::vector<std::size_t>(count, first_known);

    Path records; // what the whole block lacks and limits
    for (const Block::Section& section : block.sections) {
        maker.pass_records(records, section.id);
    }
    std::vector<Path> paths(count);
    for (LocalVertex v = 0; v < count; ++v) {
        paths[v] = starts[from[v]];
        paths[v].upstream = {};
        PathMaker::merge_records(paths[v], records);
        add_block(paths[v], is_followed ? alone[from[v]] : alone[0], v);
    }
    const std::vector<std::size_t> nearest = ShortestWays(block, layers, net).walk(starts, paths);
    for (LocalVertex v = 0; v < count; ++v) {
        paths[v].way = starts[nearest[v]].way;
    }
    return paths;
}

} // namespace loopwalk::solution
