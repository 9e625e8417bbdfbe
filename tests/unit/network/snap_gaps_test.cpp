// Loose ends, near misses, gaps and mains.
#include <gtest/gtest.h>

#include "snap_case.hpp"

namespace {

using loopwalk::base::Rule;
using loopwalk::model::Owner;
using loopwalk::model::Status;
using loopwalk::network::Gap;
using loopwalk::test::LayersBuilder;
using loopwalk::test::Lines;
using loopwalk::test::SnapCase;

std::string text_of(const SnapCase& snap, const Gap& gap) {
    const std::string to = gap.to.is_valid() ? snap.name(gap.to) : snap.cable(gap.to_cable);
    return snap.name(gap.from) + " " + to;
}

Lines gaps(const SnapCase& snap) {
    Lines lines;
    for (const Gap& gap : snap.snapped.gaps) {
        lines.push_back(text_of(snap, gap));
    }
    return lines;
}

TEST(SnapGaps, AnEndAtNothingIsLoose) {
    LayersBuilder builder;
    builder.add_column("C", 0, 0);
    builder.add_cable("a", {{0, 0}, {20, 0}});
    const SnapCase snap(builder);
    EXPECT_EQ(snap.loose_ends(), (Lines{"a a@20.00"}));
    EXPECT_EQ(snap.at_nothing(), (Lines{"a a@20.00"}));
    EXPECT_TRUE(snap.snapped.gaps.empty());
}

TEST(SnapGaps, APotEndIsNoLooseEnd) {
    LayersBuilder builder;
    builder.add_joint("P", 20, 0).kind = loopwalk::model::JointKind::pot_end;
    builder.add_column("C", 0, 0);
    builder.add_cable("a", {{0, 0}, {20, 0}});
    const SnapCase snap(builder);
    EXPECT_TRUE(snap.loose_ends().empty());
    EXPECT_TRUE(snap.findings.all().empty());
}

TEST(SnapGaps, AnEndThatMissesAColumn) {
    LayersBuilder builder;
    builder.add_column("C", 0, 0);
    builder.add_column("D", 23, 4); // 3, 4: 5 m away
    builder.add_cable("a", {{0, 0}, {20, 0}});
    const SnapCase snap(builder);
    EXPECT_EQ(gaps(snap), (Lines{"a@20.00 D"})); // and not again from D
    EXPECT_DOUBLE_EQ(snap.snapped.gaps[0].distance_m, 5.0);
    const auto finding = snap.finding(Rule::near_miss, "a");
    ASSERT_TRUE(finding.has_value());
    EXPECT_DOUBLE_EQ(finding->value.value_or(0), 5.0);
    EXPECT_TRUE(snap.at_nothing().empty());
}

TEST(SnapGaps, BeyondReachIsNoMiss) {
    LayersBuilder builder;
    builder.add_column("C", 0, 0);
    builder.add_column("D", 23, 4.1);
    builder.add_cable("a", {{0, 0}, {20, 0}});
    const SnapCase snap(builder);
    EXPECT_TRUE(gaps(snap).empty());
    EXPECT_TRUE(snap.found().empty());
    EXPECT_EQ(snap.at_nothing(), (Lines{"a a@20.00"}));
}

TEST(SnapGaps, AnEndThatMissesAnotherCablesMiddle) {
    LayersBuilder builder;
    builder.add_column("C", 20, 30);
    builder.add_column("D", 0, 0);
    builder.add_column("E", 40, 0);
    builder.add_cable("a", {{0, 0}, {40, 0}});
    builder.add_cable("b", {{20, 30}, {20, 2}});
    const SnapCase snap(builder);
    ASSERT_EQ(gaps(snap), (Lines{"b@0.00 a"}));
    EXPECT_DOUBLE_EQ(snap.snapped.gaps[0].distance_m, 2.0);
    EXPECT_DOUBLE_EQ(snap.snapped.gaps[0].to_measure, 20.0);
    EXPECT_EQ(snap.snapped.gaps[0].to_place, (loopwalk::base::Point2{20, 0}));
}

TEST(SnapGaps, TwoEndsThatMissEachOtherAreOneGap) {
    LayersBuilder builder;
    builder.add_column("C", 0, 0);
    builder.add_column("D", 42, 0);
    builder.add_cable("a", {{0, 0}, {20, 0}});
    builder.add_cable("b", {{22, 0}, {42, 0}});
    const SnapCase snap(builder);
    EXPECT_EQ(gaps(snap), (Lines{"a@20.00 b@0.00"}));
    EXPECT_EQ(snap.found(), (Lines{"near-miss a", "near-miss b"}));
}

TEST(SnapGaps, TheColumnAtItsOtherEndIsNoMiss) {
    LayersBuilder builder;
    builder.add_column("C", 0, 0);
    builder.add_cable("a", {{0, 0}, {3, 0}});
    const SnapCase snap(builder);
    EXPECT_TRUE(gaps(snap).empty());
    EXPECT_TRUE(snap.found().empty());
    EXPECT_EQ(snap.at_nothing(), (Lines{"a a@3.00"}));
}

TEST(SnapGaps, AColumnWithoutCableReachesForTheNearestOne) {
    LayersBuilder builder;
    builder.add_column("C", 0, 0);
    builder.add_column("D", 40, 0);
    builder.add_column("E", 10, 3);
    builder.add_column("F", 20, 3).owner = Owner::distributor; // fed without a cable of ours
    builder.add_column("G", 30, 3).status = Status::removed;
    builder.add_cable("a", {{0, 0}, {40, 0}});
    const SnapCase snap(builder);
    EXPECT_EQ(gaps(snap), (Lines{"E a"}));
    EXPECT_TRUE(snap.findings.all().empty());
}

TEST(SnapGaps, AnEndAtAMainIsATapAndNotLoose) {
    LayersBuilder builder;
    builder.add_column("C", 0, 0);
    builder.add_main("n", {{20.3, -50}, {20.3, 50}});
    builder.add_main("m", {{19.8, -50}, {19.8, 50}}); // 0.2 m: nearer than n
    builder.add_cable("a", {{0, 0}, {20, 0}});
    const SnapCase snap(builder);
    ASSERT_EQ(snap.snapped.main_taps.size(), 1U);
    EXPECT_EQ(snap.name(snap.snapped.main_taps[0].node), "a@20.00");
    EXPECT_EQ(snap.layers.id_text(snap.layers.mains[snap.snapped.main_taps[0].main.index()].id),
              "m");
    EXPECT_TRUE(snap.loose_ends().empty());
    EXPECT_TRUE(snap.findings.all().empty());
}

TEST(SnapGaps, OfEquallyNearMainsTheSmallerIdCounts) {
    LayersBuilder builder;
    builder.add_main("n", {{19.8, -50}, {19.8, 50}});
    builder.add_main("m", {{20.2, -50}, {20.2, 50}});
    builder.add_cable("a", {{0, 0}, {20, 0}});
    const SnapCase snap(builder);
    ASSERT_EQ(snap.snapped.main_taps.size(), 1U);
    EXPECT_EQ(snap.snapped.main_taps[0].main.index(), 0U); // "m"
}

TEST(SnapGaps, ACableMayHaveTwoEndsAtNothing) {
    LayersBuilder builder;
    builder.add_cable("a", {{0, 0}, {20, 0}});
    const SnapCase snap(builder);
    EXPECT_TRUE(snap.found().empty());
    EXPECT_EQ(snap.at_nothing(), (Lines{"a a@0.00", "a a@20.00"}));
}

} // namespace
