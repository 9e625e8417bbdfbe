#include <gtest/gtest.h>

#include "graph.hpp"
#include <numeric>

namespace loopwalk::trace {
namespace {

using Flags = std::vector<std::uint8_t>;

TEST(Trace, WalksALineFromItsInfeed) {
    const Trace t = traced(GraphBuilder(4).infeed(0).finish({{0, 1}, {2, 1}, {2, 3}}));
    ASSERT_EQ(t.components.size(), 1U);
    EXPECT_EQ(t.components[0].feeding, Feeding::one);
    EXPECT_EQ(t.components[0].loops, 0U);
    EXPECT_FALSE(t.parent[0].is_valid());
    EXPECT_EQ(t.parent[2], VertexId(1));
    EXPECT_EQ(t.parent_edge[2], EdgeId(1));
    EXPECT_EQ(t.looped, Flags({0, 0, 0}));
    EXPECT_EQ(t.clean, Flags({1, 1, 1, 1}));
}

TEST(Trace, ParallelCablesAreALoop) {
    const Trace t = traced(GraphBuilder(3).infeed(0).finish({{0, 1}, {1, 0}, {1, 2}}));
    EXPECT_EQ(t.components[0].loops, 1U);
    EXPECT_EQ(t.looped, Flags({1, 1, 0}));
    EXPECT_EQ(t.clean, Flags({1, 0, 0})) << "what hangs behind a loop has no single path either";
}

TEST(Trace, ACableBackToItsOwnPlaceSpoilsNoPath) {
    const Trace t = traced(GraphBuilder(3).infeed(0).finish({{0, 1}, {1, 1}, {1, 2}}));
    EXPECT_EQ(t.components[0].loops, 1U);
    EXPECT_EQ(t.looped, Flags({0, 1, 0}));
    EXPECT_EQ(t.clean, Flags({1, 1, 1}));
}

TEST(Trace, TwoWaysOfOnePillarJoinedByACableAreARing) {
    // 0 and 3 are two ways of one supply; 0 - 1 - 2 - 3 joins them, 1 - 4 is a spur.
    const Trace t =
        traced(GraphBuilder(5).infeed(0).infeed(3).finish({{0, 1}, {1, 2}, {2, 3}, {1, 4}}));
    ASSERT_EQ(t.components.size(), 1U);
    EXPECT_EQ(t.components[0].feeding, Feeding::ring);
    EXPECT_EQ(t.components[0].loops, 1U);
    EXPECT_EQ(t.looped, Flags({1, 1, 1, 0}));
    EXPECT_EQ(t.clean, Flags({0, 0, 0, 0, 0}));
}

TEST(Trace, TwoWaysThatNoCableJoinsAreTwoComponents) {
    const Trace t = traced(GraphBuilder(4).infeed(0).infeed(2).finish({{0, 1}, {2, 3}}));
    ASSERT_EQ(t.components.size(), 2U);
    EXPECT_EQ(t.clean, Flags({1, 1, 1, 1}));
}

TEST(Trace, TwoSuppliesJoinedAreSeveral) {
    const Trace t = traced(GraphBuilder(3).infeed(0, 0).infeed(2, 1).finish({{0, 1}, {1, 2}}));
    EXPECT_EQ(t.components[0].feeding, Feeding::several);
    EXPECT_EQ(t.clean, Flags({0, 0, 0}));
}

TEST(Trace, WhatNoInfeedReachesIsFedByNone) {
    const Trace t = traced(GraphBuilder(5).infeed(0).finish({{0, 1}, {2, 3}}));
    ASSERT_EQ(t.components.size(), 2U);
    EXPECT_EQ(t.components[1].feeding, Feeding::none);
    EXPECT_EQ(t.find(VertexId(3)), &t.components[1]);
    EXPECT_EQ(t.find(VertexId(4)), nullptr) << "a vertex without edges has no component";
    EXPECT_EQ(t.clean, Flags({1, 1, 0, 0, 0}));
}

TEST(Trace, AChainOfAMillionEndsInOrder) {
    constexpr std::uint32_t kVertices = 1'000'000;
    std::vector<Pair> edges;
    for (std::uint32_t v = 1; v < kVertices; ++v) {
        edges.emplace_back(v - 1, v);
    }
    const Trace t = traced(GraphBuilder(kVertices).infeed(0).finish(edges));
    ASSERT_EQ(t.order.size(), kVertices);
    EXPECT_EQ(t.order.back(), VertexId(kVertices - 1));
    EXPECT_EQ(t.components[0].loops, 0U);
    EXPECT_EQ(std::accumulate(t.clean.begin(), t.clean.end(), 0U), kVertices);
}

} // namespace
} // namespace loopwalk::trace
