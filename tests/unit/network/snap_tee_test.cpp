// Rule 4 of docs/snapping.md: an end that is left tees into the middle of a cable.
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

TEST(SnapTee, AnEndJoinsTheMiddleOfACable) {
    LayersBuilder builder;
    builder.add_cable("a", {{0, 0}, {20, 0}});
    builder.add_cable("b", {{12, 0.4}, {12, 9}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(),
              (Lines{"a/1 a@0.00 a@12.00", "a/2 a@12.00 a@20.00", "b/1 a@12.00 b@8.60"}));
    ASSERT_EQ(snap.snapped.moves.size(), 1U);
    EXPECT_EQ(snap.snapped.moves[0].kind, MoveKind::tee_assumed);
    EXPECT_EQ(snap.snapped.moves[0].from, (Point2{12, 0.4}));
    EXPECT_EQ(snap.snapped.moves[0].to, (Point2{12, 0}));
    const auto finding = snap.finding(Rule::tee_assumed, "b");
    ASSERT_TRUE(finding.has_value());
    EXPECT_DOUBLE_EQ(finding->value.value_or(0), 0.4);
    EXPECT_EQ(finding->unit, "m");
    EXPECT_EQ(section_line(snap.layers, snap.snapped, snap.snapped.sections[2]),
              (Polyline{{12, 0}, {12, 0.4}, {12, 9}}));
}

TEST(SnapTee, AnEndDrawnOnTheCableMovesNowhere) {
    LayersBuilder builder;
    builder.add_cable("a", {{0, 0}, {20, 0}});
    builder.add_cable("b", {{12, 0}, {12, 9}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(),
              (Lines{"a/1 a@0.00 a@12.00", "a/2 a@12.00 a@20.00", "b/1 a@12.00 b@9.00"}));
    EXPECT_TRUE(snap.snapped.moves.empty());
    EXPECT_TRUE(snap.finding(Rule::tee_assumed, "b").has_value());
}

TEST(SnapTee, NotIntoAnotherCircuit) {
    LayersBuilder builder;
    builder.add_cable("a", {{0, 0}, {20, 0}}, "X");
    builder.add_cable("b", {{12, 0.4}, {12, 9}}, "Y");
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(), (Lines{"a/1 a@0.00 a@20.00", "b/1 b@0.00 b@8.60"}));
    EXPECT_EQ(snap.loose_ends(),
              (Lines{"a a@0.00", "a a@20.00", "b b@0.00 ambiguous", "b b@8.60"}));
    EXPECT_DOUBLE_EQ(snap.finding(Rule::ambiguous_snap, "b")->value.value_or(0), 0.4);
}

TEST(SnapTee, NotBetweenTwoEquallyNearCables) {
    LayersBuilder builder;
    builder.add_cable("a", {{0, 0}, {20, 0}});
    builder.add_cable("b", {{0, 0.6}, {20, 0.6}});
    builder.add_cable("c", {{10, 0.3}, {10.3, 0.3}, {10.3, 9}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(),
              (Lines{"a/1 a@0.00 a@20.00", "b/1 b@0.00 b@20.00", "c/1 c@0.00 c@9.00"}));
    EXPECT_TRUE(snap.finding(Rule::ambiguous_snap, "c").has_value());
}

TEST(SnapTee, IntoTheNearerOfTwoCables) {
    LayersBuilder builder;
    builder.add_cable("a", {{0, 0}, {20, 0}});
    builder.add_cable("b", {{0, 0.6}, {20, 0.6}});
    builder.add_cable("c", {{10, 0.25}, {10.3, 0.25}, {10.3, 9}});
    EXPECT_EQ(SnapCase(builder).sections(), (Lines{"a/1 a@0.00 a@10.00", "a/2 a@10.00 a@20.00",
                                                   "b/1 b@0.00 b@20.00", "c/1 a@10.00 c@9.05"}));
}

TEST(SnapTee, NotBesideAnotherNode) {
    LayersBuilder builder;
    builder.add_column("C", 12.3, -0.4); // 0.5 m from where the tee would be
    builder.add_cable("a", {{0, 0}, {20, 0}});
    builder.add_cable("b", {{12, 0.4}, {12, 9}});       // 0.85 m from C
    builder.add_cable("d", {{12.3, -0.4}, {12.3, -9}}); // keeps a from being cut at C
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(), (Lines{"a/1 a@0.00 a@20.00", "b/1 b@0.00 b@8.60", "d/1 d@0.00 C"}));
    EXPECT_TRUE(snap.finding(Rule::ambiguous_snap, "b").has_value());
}

TEST(SnapTee, NotIntoACableOutOfUse) {
    LayersBuilder builder;
    builder.add_cable("a", {{0, 0}, {20, 0}}).status = Status::removed;
    builder.add_cable("b", {{12, 0.4}, {12, 9}});
    EXPECT_EQ(SnapCase(builder).sections(), (Lines{"a/1 a@0.00 a@20.00", "b/1 b@0.00 b@8.60"}));
}

TEST(SnapTee, NotIntoItsOwnMiddle) {
    LayersBuilder builder; // drawn like a 6
    builder.add_cable("a", {{0, 0}, {20, 0}, {20, 5}, {10, 5}, {10, 0.2}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(), (Lines{"a/1 a@0.00 a@39.80"}));
    EXPECT_EQ(snap.loose_ends(), (Lines{"a a@0.00", "a a@39.80"}));
}

TEST(SnapTee, SeveralEndsAlongOneCable) {
    LayersBuilder builder;
    builder.add_cable("a", {{0, 0}, {20, 0}});
    builder.add_cable("b", {{12, 0.4}, {12, 9}});
    builder.add_cable("c", {{5, -0.1}, {5, -9}});
    builder.add_cable("d", {{9, 0.5}, {9, 9}});
    EXPECT_EQ(SnapCase(builder).sections(),
              (Lines{"a/1 a@0.00 a@5.00", "a/2 a@5.00 a@9.00", "a/3 a@9.00 a@12.00",
                     "a/4 a@12.00 a@20.00", "b/1 a@12.00 b@8.60", "c/1 c@0.00 a@5.00",
                     "d/1 a@9.00 d@8.50"}));
}

TEST(SnapTee, AJointGoesBeforeATee) {
    LayersBuilder builder;
    builder.add_joint("J", 12, 0.1);
    builder.add_cable("a", {{0, 0}, {20, 0}}, "X");
    builder.add_cable("b", {{12, 0.4}, {12, 9}}, "X");
    const SnapCase snap(builder);
    EXPECT_EQ(snap.sections(), (Lines{"a/1 a@0.00 J", "a/2 J a@20.00", "b/1 J b@8.60"}));
    EXPECT_FALSE(snap.finding(Rule::tee_assumed, "b").has_value());
}

} // namespace
