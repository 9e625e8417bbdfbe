// Numbers, lengths and names of sections and nodes.
#include <gtest/gtest.h>

#include "snap_case.hpp"

namespace {

using loopwalk::base::Metre;
using loopwalk::base::Polyline;
using loopwalk::network::NodeKind;
using loopwalk::test::LayersBuilder;
using loopwalk::test::Lines;
using loopwalk::test::SnapCase;

TEST(SnapSections, RunOnThroughThePartsOfACable) {
    LayersBuilder builder;
    builder.add_column("C", 24, 0);
    builder.add_cable_of_parts("a", {{{20, 0}, {30, 0}}, {{10, 0}, {0, 0}}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(), (Lines{"a/1 a@0.00 a@10.00", "a/2 a@10.00 C", "a/3 C a@20.00"}));
    EXPECT_EQ(snap.snapped.first_section, (std::vector<std::uint32_t>{0, 3}));
}

TEST(SnapSections, NamesOfNodesFollowTheLaidLength) {
    LayersBuilder builder;
    builder.add_cable("a", {{0, 0}, {20, 0}}).laid = Metre(30.0);
    builder.add_cable("b", {{8, 0}, {8, 9}});
    // 8 of 20 drawn metres are 12 of 30 laid ones.
    EXPECT_EQ(SnapCase(builder).sections(),
              (Lines{"a/1 a@0.00 a@12.00", "a/2 a@12.00 a@30.00", "b/1 a@12.00 b@9.00"}));
}

TEST(SnapSections, LengthsAreOnTheGround) {
    LayersBuilder builder;
    builder.add_column("C", 5, 0);
    builder.add_cable("a", {{0, 0}, {20, 0}});
    loopwalk::model::Layers layers = builder.finish();
    layers.parts[0].drawn = Metre(20.02); // one in a thousand longer than on the map
    loopwalk::base::FindingList findings;
    loopwalk::base::NoProgress progress;
    const auto snapped = loopwalk::network::snap(layers, {}, findings, progress);
    ASSERT_EQ(snapped.sections.size(), 2U);
    EXPECT_DOUBLE_EQ(snapped.sections[0].to_measure, 5.0);
    EXPECT_NEAR(snapped.sections[0].drawn.value(), 5.005, 1e-12);
    EXPECT_NEAR(snapped.sections[1].drawn.value(), 15.015, 1e-12);
    EXPECT_EQ(node_name(layers, snapped.nodes[snapped.sections[1].to.index()]), "a@20.02");
}

TEST(SnapSections, ATeeIsNamedByTheSmallestCableThatMeetsThere) {
    LayersBuilder builder;
    builder.add_cable("b", {{0, 0}, {20, 0}});
    builder.add_cable("a", {{12, 0.4}, {12, 9}});
    EXPECT_EQ(SnapCase(builder).sections(),
              (Lines{"a/1 a@0.00 a@8.60", "b/1 b@0.00 a@0.00", "b/2 a@0.00 b@20.00"}));
}

TEST(SnapSections, EveryAssetWithAPlaceHasOneNode) {
    LayersBuilder builder;
    builder.add_supply("S", 0, 0);
    builder.add_column("D", 1, 0);
    builder.add_column("C", 2, 0);
    builder.add_joint("J", 3, 0);
    const SnapCase snap(builder);
    ASSERT_EQ(snap.snapped.nodes.size(), 4U);
    EXPECT_EQ(snap.snapped.nodes[0].kind, NodeKind::supply);
    EXPECT_EQ(snap.name(snap.snapped.column_node[0]), "C");
    EXPECT_EQ(snap.name(snap.snapped.column_node[1]), "D");
    EXPECT_EQ(snap.name(snap.snapped.joint_node[0]), "J");
    EXPECT_EQ(snap.name(snap.snapped.supply_node[0]), "S");
}

TEST(SnapSections, AJoggedEndIsPartOfTheLine) {
    LayersBuilder builder;
    builder.add_column("C", 0, 0.4);
    builder.add_cable("a", {{0, 0}, {20, 0}});
    const SnapCase snap(builder);
    EXPECT_EQ(section_line(snap.layers, snap.snapped, snap.snapped.sections[0]),
              (Polyline{{0, 0.4}, {0, 0}, {20, 0}}));
    EXPECT_DOUBLE_EQ(snap.snapped.sections[0].drawn.value(), 20.0); // as drawn, not as led
}

} // namespace
