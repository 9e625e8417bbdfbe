// Rules 1 and 2 of docs/snapping.md: ends at assets, and ends at each other.
#include <gtest/gtest.h>

#include "snap_case.hpp"

namespace {

using loopwalk::base::Rule;
using loopwalk::model::Status;
using loopwalk::network::MoveKind;
using loopwalk::test::LayersBuilder;
using loopwalk::test::Lines;
using loopwalk::test::SnapCase;

TEST(SnapEnds, GoToTheNearestAsset) {
    LayersBuilder builder;
    builder.add_supply("S", -0.3, 0); // from the end at (0, 0): 0.3 m
    builder.add_column("C", 0, 0.2);  // 0.2 m
    builder.add_joint("J", 10, 0.5);  // 0.5 m: just within snap_m
    builder.add_cable("a", {{0, 0}, {10, 0}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(), (Lines{"a/1 C J"}));
    ASSERT_EQ(snap.snapped.moves.size(), 2U);
    EXPECT_EQ(snap.snapped.moves[0].kind, MoveKind::end_to_asset);
    EXPECT_DOUBLE_EQ(snap.snapped.moves[0].moved_m, 0.2);
    EXPECT_DOUBLE_EQ(snap.snapped.moves[1].moved_m, 0.5);
}

TEST(SnapEnds, StayWhereTheyAreBeyondSnap) {
    LayersBuilder builder;
    builder.add_column("C", 10, 0.501);
    builder.add_cable("a", {{0, 0}, {10, 0}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(), (Lines{"a/1 a@0.00 a@10.00"}));
    EXPECT_TRUE(snap.snapped.moves.empty());
}

TEST(SnapEnds, GoToAnAssetWhateverTheLabels) {
    LayersBuilder builder;
    builder.add_column("C", 10, 0);
    builder.add_cable("a", {{0, 0}, {10, 0}}, "X");
    builder.add_cable("b", {{10, 0}, {20, 0}}, "Y");
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(), (Lines{"a/1 a@0.00 C", "b/1 C b@10.00"}));
}

TEST(SnapEnds, BetweenTwoEquallyNearAssetsAreAmbiguous) {
    LayersBuilder builder;
    builder.add_column("C", 10, 0.3);
    builder.add_column("D", 10, -0.3);
    builder.add_cable("a", {{0, 0}, {10, 0}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(), (Lines{"a/1 a@0.00 a@10.00"}));
    EXPECT_EQ(snap.loose_ends(), (Lines{"a a@0.00", "a a@10.00 ambiguous"}));
    const auto finding = snap.finding(Rule::ambiguous_snap, "a");
    ASSERT_TRUE(finding.has_value());
    EXPECT_DOUBLE_EQ(finding->value.value_or(0), 0.3);
    EXPECT_EQ(finding->place, (loopwalk::base::Point2{10, 0}));
}

TEST(SnapEnds, TwoMicrometresDecide) {
    LayersBuilder builder;
    builder.add_column("C", 10, 0.3);
    builder.add_column("D", 10, -0.300002);
    builder.add_cable("a", {{0, 0}, {10, 0}});
    EXPECT_EQ(SnapCase(builder).sections(), (Lines{"a/1 a@0.00 C"}));
}

TEST(SnapEnds, MeetAtTheEndOfTheSmallestCable) {
    LayersBuilder builder;
    builder.add_cable("b", {{10.3, 0}, {20, 0}});
    builder.add_cable("a", {{0, 0}, {10, 0}});
    builder.add_cable("c", {{10.1, 0.2}, {10.1, 9}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(),
              (Lines{"a/1 a@0.00 a@10.00", "b/1 a@10.00 b@9.70", "c/1 a@10.00 c@8.80"}));
    EXPECT_EQ(snap.snapped.moves.size(), 2U);
    EXPECT_EQ(snap.snapped.moves[0].kind, MoveKind::end_to_end);
}

TEST(SnapEnds, DoNotChain) {
    LayersBuilder builder; // ends at 10, 10.4 and 10.8: the first takes the second alone
    builder.add_cable("a", {{0, 0}, {10, 0}});
    builder.add_cable("b", {{10.4, 0}, {10.4, 9}});
    builder.add_cable("c", {{10.8, 0}, {20, 0}});
    EXPECT_EQ(SnapCase(builder).sections(),
              (Lines{"a/1 a@0.00 a@10.00", "b/1 a@10.00 b@9.00", "c/1 c@0.00 c@9.20"}));
}

TEST(SnapEnds, OfOtherCircuitsStayApart) {
    LayersBuilder builder;
    builder.add_cable("a", {{0, 0}, {10, 0}}, "X");
    builder.add_cable("b", {{10.2, 0}, {20, 0}}, "Y");
    builder.add_cable("c", {{10.1, 0}, {10.1, 9}}, "X");
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(),
              (Lines{"a/1 a@0.00 a@10.00", "b/1 b@0.00 b@9.80", "c/1 a@10.00 c@9.00"}));
    EXPECT_EQ(snap.found(), (Lines{"ambiguous-snap b"}));
    EXPECT_EQ(snap.at_nothing(), (Lines{"a a@0.00", "b b@9.80", "c c@9.00"}));
}

TEST(SnapEnds, TwoCircuitsJointedInOneHoleKeepApart) {
    LayersBuilder builder;
    builder.add_cable("a", {{0, 0}, {10, 0}}, "X");
    builder.add_cable("b", {{0, 0.2}, {10, 0.2}}, "Y");
    builder.add_cable("c", {{10, 0}, {20, 0}}, "X");
    builder.add_cable("d", {{10, 0.2}, {20, 0.2}}, "Y");
    const Lines sections = SnapCase(builder).sections();
    EXPECT_EQ(sections, (Lines{"a/1 a@0.00 a@10.00", "b/1 b@0.00 b@10.00", "c/1 a@10.00 c@10.00",
                               "d/1 b@10.00 d@10.00"}));
}

TEST(SnapEnds, BetweenCircuitsWithoutALabelOfItsOwnIsNotJoined) {
    LayersBuilder builder;
    builder.add_cable("a", {{0, 0}, {10, 0}}, "X");
    builder.add_cable("b", {{10.4, 0}, {20, 0}}, "Y");
    builder.add_cable("c", {{10.2, 0}, {10.2, 9}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(),
              (Lines{"a/1 a@0.00 a@10.00", "b/1 b@0.00 b@9.60", "c/1 c@0.00 c@9.00"}));
    EXPECT_EQ(snap.loose_ends(), (Lines{"a a@0.00", "a a@10.00 ambiguous", "b b@0.00 ambiguous",
                                        "b b@9.60", "c c@0.00 ambiguous", "c c@9.00"}));
}

TEST(SnapEnds, OfAShortPieceDoNotFallTogether) {
    LayersBuilder builder;
    builder.add_cable("a", {{0, 0}, {10, 0}});
    builder.add_cable("b", {{10, 0}, {10.3, 0}});
    builder.add_cable("c", {{10.3, 0}, {20, 0}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(),
              (Lines{"a/1 a@0.00 a@10.00", "b/1 a@10.00 b@0.30", "c/1 b@0.30 c@9.70"}));
    EXPECT_TRUE(snap.snapped.moves.empty());
    EXPECT_FALSE(snap.finding(Rule::ambiguous_snap, "b").has_value());
}

TEST(SnapEnds, OfALongLoopMeet) {
    LayersBuilder builder;
    builder.add_cable("a", {{0, 0}, {10, 0}, {10, 10}, {0, 0.3}});
    EXPECT_EQ(SnapCase(builder).sections(), (Lines{"a/1 a@0.00 a@0.00"}));
}

TEST(SnapEnds, OfACableOutOfUseJoinAssetsAlone) {
    LayersBuilder builder;
    builder.add_column("C", 0, 0);
    builder.add_cable("a", {{0, 0.1}, {10, 0}}).status = Status::removed;
    builder.add_cable("b", {{10, 0}, {20, 0}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(), (Lines{"a/1 C a@10.00", "b/1 b@0.00 b@10.00"}));
    EXPECT_EQ(snap.loose_ends(), (Lines{"b b@0.00", "b b@10.00"}));
    EXPECT_EQ(snap.at_nothing(), (Lines{"b b@0.00", "b b@10.00"}));
}

TEST(SnapEnds, WithoutAPlaceAnAssetHasNoNode) {
    LayersBuilder builder;
    builder.add_column("C", 0, 0).has_place = false;
    builder.add_column("D", 5, 0);
    builder.add_cable("a", {{0, 0}, {5, 0}});
    const SnapCase snap(builder);
    EXPECT_FALSE(snap.snapped.column_node[0].is_valid());
    EXPECT_TRUE(snap.snapped.column_node[1].is_valid());
    EXPECT_EQ(snap.sections(), (Lines{"a/1 a@0.00 D"}));
}

TEST(SnapEnds, NothingAtAllGivesNothing) {
    LayersBuilder builder;
    const SnapCase snap(builder);
    EXPECT_TRUE(snap.snapped.sections.empty());
    EXPECT_EQ(snap.snapped.first_section, (std::vector<std::uint32_t>{0}));
    EXPECT_TRUE(snap.findings.all().empty());
}

} // namespace
