// Loops against brute force: an edge lies on a closed loop exactly if its ends stay connected
// without it. Random multigraphs; LW_TEST_SEED replays a run.
#include <gtest/gtest.h>

#include "graph.hpp"
#include <algorithm>
#include <cstdlib>
#include <numeric>
#include <random>
#include <set>

namespace loopwalk::trace {
namespace {

constexpr int kGraphs = 2000;

struct RandomGraph {
    std::uint32_t vertices = 0;
    std::vector<Pair> edges;
    std::vector<Pair> infeeds; ///< vertex and supply, vertices distinct
};

RandomGraph random_graph(std::mt19937& random) {
    const auto pick = [&](std::uint32_t below) {
        return std::uniform_int_distribution<std::uint32_t>(0, below - 1)(random);
    };
    RandomGraph graph;
    graph.vertices = 1 + pick(12);
    const std::uint32_t edges = pick(graph.vertices + 5);
    for (std::uint32_t e = 0; e < edges; ++e) {
        graph.edges.emplace_back(pick(graph.vertices), pick(graph.vertices));
    }
    std::set<std::uint32_t> taken;
    for (std::uint32_t r = pick(4); r > 0; --r) {
        const std::uint32_t vertex = pick(graph.vertices);
        if (taken.insert(vertex).second) {
            graph.infeeds.emplace_back(vertex, pick(2));
        }
    }
    return graph;
}

/// Sets of connected vertices, by union-find; all infeeds of a set count as one vertex for loops.
class Sets {
  public:
    explicit Sets(std::uint32_t vertices) : m_parent(vertices) {
        std::iota(m_parent.begin(), m_parent.end(), 0U);
    }
    std::uint32_t find(std::uint32_t v) const { return m_parent[v] == v ? v : find(m_parent[v]); }
    void join(std::uint32_t a, std::uint32_t b) { m_parent[find(a)] = find(b); }

  private:
    std::vector<std::uint32_t> m_parent;
};

Sets connected(const RandomGraph& graph, std::size_t without) {
    Sets sets(graph.vertices);
    for (std::size_t e = 0; e < graph.edges.size(); ++e) {
        if (e != without) {
            sets.join(graph.edges[e].first, graph.edges[e].second);
        }
    }
    return sets;
}

constexpr std::size_t kNone = static_cast<std::size_t>(-1);

/// Whether the ends of an edge stay connected without it, where the infeeds that the edge's own
/// component holds meet at the busbar.
bool stays_connected(const RandomGraph& graph, std::size_t edge) {
    const Sets whole = connected(graph, kNone);
    Sets sets = connected(graph, edge);
    const auto [a, b] = graph.edges[edge];
    std::uint32_t first_infeed = graph.vertices;
    for (const auto& [vertex, supply] : graph.infeeds) {
        if (whole.find(vertex) != whole.find(a)) {
            continue;
        }
        if (first_infeed == graph.vertices) {
            first_infeed = vertex;
        }
        sets.join(vertex, first_infeed);
    }
    return sets.find(a) == sets.find(b);
}

network::Network network_of(const RandomGraph& graph) {
    GraphBuilder builder(graph.vertices);
    for (const auto& [vertex, supply] : graph.infeeds) {
        builder.infeed(vertex, supply);
    }
    return builder.finish(graph.edges);
}

void check_loops(const RandomGraph& graph, const Trace& t) {
    for (std::size_t e = 0; e < graph.edges.size(); ++e) {
        EXPECT_EQ(t.looped[e] != 0, stays_connected(graph, e)) << "edge " << e;
    }
}

/// Infeeds in the component of a vertex.
std::size_t infeeds_near(const RandomGraph& graph, std::uint32_t vertex) {
    const Sets sets = connected(graph, kNone);
    return static_cast<std::size_t>(std::ranges::count_if(
        graph.infeeds, [&](const Pair& r) { return sets.find(r.first) == sets.find(vertex); }));
}

/// A vertex has one path if a single infeed reaches it and no edge of the path is on a loop.
void check_paths(const RandomGraph& graph, const Trace& t) {
    for (std::uint32_t v = 0; v < graph.vertices; ++v) {
        bool expected = infeeds_near(graph, v) == 1;
        for (VertexId at(v); expected && t.parent[at.index()].is_valid();
             at = t.parent[at.index()]) {
            expected = !stays_connected(graph, t.parent_edge[at.index()].index());
        }
        EXPECT_EQ(t.clean[v] != 0, expected) << "vertex " << v;
    }
}

void check_order(const RandomGraph& graph, const Trace& t) {
    std::vector<std::size_t> place(graph.vertices, kNone);
    for (std::size_t i = 0; i < t.order.size(); ++i) {
        place[t.order[i].index()] = i;
    }
    for (const VertexId v : t.order) {
        const VertexId parent = t.parent[v.index()];
        if (!parent.is_valid()) {
            continue;
        }
        EXPECT_LT(place[parent.index()], place[v.index()]);
        const Pair edge = graph.edges[t.parent_edge[v.index()].index()];
        const Pair step(static_cast<std::uint32_t>(parent.index()),
                        static_cast<std::uint32_t>(v.index()));
        EXPECT_TRUE(edge == step || edge == Pair(step.second, step.first));
    }
}

TEST(TraceProperty, LoopsAndPathsAgreeWithBruteForce) {
    const char* given = std::getenv("LW_TEST_SEED");
    const unsigned long seed = given != nullptr ? std::strtoul(given, nullptr, 10) : 20240117UL;
    std::mt19937 random(static_cast<std::mt19937::result_type>(seed));
    for (int n = 0; n < kGraphs && !testing::Test::HasFailure(); ++n) {
        SCOPED_TRACE("LW_TEST_SEED=" + std::to_string(seed) + ", graph " + std::to_string(n));
        const RandomGraph graph = random_graph(random);
        const network::Network net = network_of(graph);
        const Trace t = traced(net);
        check_loops(graph, t);
        check_paths(graph, t);
        check_order(graph, t);
    }
}

} // namespace
} // namespace loopwalk::trace
