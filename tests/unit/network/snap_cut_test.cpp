// Rule 3 of docs/snapping.md: cables are cut at the assets they pass.
#include <gtest/gtest.h>

#include "snap_case.hpp"

namespace {

using loopwalk::base::Point2;
using loopwalk::base::Polyline;
using loopwalk::base::Rule;
using loopwalk::model::Status;
using loopwalk::network::MoveKind;
using loopwalk::test::LayersBuilder;
using loopwalk::test::Lines;
using loopwalk::test::SnapCase;

TEST(SnapCut, ACableLoopsIntoTheColumnsItPasses) {
    LayersBuilder builder;
    builder.add_supply("S", 0, 0);
    builder.add_column("C", 10, 0.3);
    builder.add_column("D", 20, -0.4);
    builder.add_column("E", 30, 0);
    builder.add_cable("a", {{0, 0}, {30, 0}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(), (Lines{"a/1 S C", "a/2 C D", "a/3 D E"}));
    ASSERT_EQ(snap.snapped.moves.size(), 2U);
    EXPECT_EQ(snap.snapped.moves[0].kind, MoveKind::cut_at_asset);
    EXPECT_EQ(snap.snapped.moves[0].from, (Point2{10, 0}));
    EXPECT_EQ(snap.snapped.moves[0].to, (Point2{10, 0.3}));
    const auto finding = snap.finding(Rule::cut_assumed, "a");
    ASSERT_TRUE(finding.has_value());
    EXPECT_EQ(finding->count, 2);
    EXPECT_DOUBLE_EQ(finding->value.value_or(0), 0.4); // the largest move
    EXPECT_EQ(finding->severity, loopwalk::base::Severity::note);
}

TEST(SnapCut, SectionsAreLedToTheAssetAndKeepTheDrawnLength) {
    LayersBuilder builder;
    builder.add_column("C", 12, 0.3);
    builder.add_cable("a", {{0, 0}, {10, 0}, {30, 0}});
    const SnapCase snap(builder);
    ASSERT_EQ(snap.snapped.sections.size(), 2U);
    EXPECT_DOUBLE_EQ(snap.snapped.sections[0].drawn.value(), 12.0);
    EXPECT_DOUBLE_EQ(snap.snapped.sections[1].drawn.value(), 18.0);
    EXPECT_EQ(section_line(snap.layers, snap.snapped, snap.snapped.sections[0]),
              (Polyline{{0, 0}, {10, 0}, {12, 0}, {12, 0.3}}));
    EXPECT_EQ(section_line(snap.layers, snap.snapped, snap.snapped.sections[1]),
              (Polyline{{12, 0.3}, {12, 0}, {30, 0}}));
}

TEST(SnapCut, NotAtAnAssetWhereAnotherCableEnds) {
    LayersBuilder builder;
    builder.add_column("C", 10, 0.3);
    builder.add_cable("a", {{0, 0}, {30, 0}}); // two cables in one trench
    builder.add_cable("b", {{0, 0.3}, {10, 0.3}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(), (Lines{"a/1 a@0.00 a@30.00", "b/1 a@0.00 C"}));
    const auto finding = snap.finding(Rule::ambiguous_snap, "a");
    ASSERT_TRUE(finding.has_value());
    EXPECT_NE(finding->message.find(" C,"), std::string::npos) << finding->message;
    EXPECT_EQ(finding->place, (Point2{10, 0}));
}

TEST(SnapCut, WhereAnotherCableEndsIfItCarriesTheSameLabel) {
    LayersBuilder builder;
    builder.add_column("C", 10, 0.3);
    builder.add_cable("a", {{0, 0}, {30, 0}}, "X");
    builder.add_cable("b", {{10, 9}, {10, 0.3}}, "X");
    EXPECT_EQ(SnapCase(builder).sections(),
              (Lines{"a/1 a@0.00 C", "a/2 C a@30.00", "b/1 C b@8.70"}));
}

TEST(SnapCut, AMissingLabelAgreesWithNothing) {
    LayersBuilder builder;
    builder.add_column("C", 10, 0.3);
    builder.add_cable("a", {{0, 0}, {30, 0}}, "X");
    builder.add_cable("b", {{10, 9}, {10, 0.3}});
    EXPECT_EQ(SnapCase(builder).sections(), (Lines{"a/1 a@0.00 a@30.00", "b/1 C b@8.70"}));
}

TEST(SnapCut, ACableOutOfUseKeepsNothingOut) {
    LayersBuilder builder;
    builder.add_column("C", 10, 0.3);
    builder.add_cable("a", {{0, 0}, {30, 0}});
    builder.add_cable("b", {{10, 9}, {10, 0.3}}).status = Status::disconnected;
    EXPECT_EQ(SnapCase(builder).sections(),
              (Lines{"a/1 a@0.00 C", "a/2 C a@30.00", "b/1 C b@8.70"}));
}

TEST(SnapCut, TwoCablesThatBothPassAreBothCut) {
    LayersBuilder builder;
    builder.add_column("C", 10, 0.2);
    builder.add_cable("a", {{0, 0}, {30, 0}});
    builder.add_cable("b", {{0, 0.6}, {30, 0.6}});
    EXPECT_EQ(SnapCase(builder).sections(),
              (Lines{"a/1 a@0.00 C", "a/2 C a@30.00", "b/1 b@0.00 C", "b/2 C b@30.00"}));
}

TEST(SnapCut, OnceForEachTimeItComesBy) {
    LayersBuilder builder;
    builder.add_column("C", 10, 0);
    builder.add_cable("a", {{0, 0}, {20, 0}, {20, 0.3}, {0, 0.3}});
    // From the end with the smaller (x, y): out to 20 m, back above; 20 + 0.3 + 20 m.
    EXPECT_EQ(SnapCase(builder).sections(), (Lines{"a/1 a@0.00 C", "a/2 C C", "a/3 C a@0.00"}));
}

TEST(SnapCut, TwoAssetsEquallyNearToOnePointAreAmbiguous) {
    LayersBuilder builder;
    builder.add_column("C", 10, 0.3);
    builder.add_column("D", 10, -0.3);
    builder.add_cable("a", {{0, 0}, {30, 0}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(), (Lines{"a/1 a@0.00 a@30.00"}));
    EXPECT_EQ(snap.finding(Rule::ambiguous_snap, "a")->count, 2);
}

TEST(SnapCut, TwoAssetsAcrossFromEachOtherAtOtherDistancesAreBothCutAt) {
    LayersBuilder builder;
    builder.add_column("C", 10, 0.3);
    builder.add_column("D", 10, -0.2);
    builder.add_cable("a", {{0, 0}, {30, 0}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(), (Lines{"a/1 a@0.00 C", "a/2 C D", "a/3 D a@30.00"}));
    EXPECT_EQ(snap.snapped.sections[1].drawn.value(), 0.0);
    EXPECT_EQ(section_line(snap.layers, snap.snapped, snap.snapped.sections[1]),
              (Polyline{{10, 0.3}, {10, 0}, {10, -0.2}}));
}

TEST(SnapCut, AnAssetBesideWhereItEndsIsNoPassage) {
    LayersBuilder builder;
    builder.add_column("C", 30, 0);
    builder.add_column("D", 30.2, 0.3); // 0.36 m from the end, but C takes it
    builder.add_cable("a", {{0, 0}, {30, 0}});
    EXPECT_EQ(SnapCase(builder).sections(), (Lines{"a/1 a@0.00 C"}));
}

TEST(SnapCut, CrossingCablesAreNotJoined) {
    LayersBuilder builder;
    builder.add_cable("a", {{0, 0}, {20, 0}});
    builder.add_cable("b", {{10, -10}, {10, 10}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(), (Lines{"a/1 a@0.00 a@20.00", "b/1 b@0.00 b@20.00"}));
}

} // namespace
