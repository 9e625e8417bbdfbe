#include "loopwalk/base/finding.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <random>
#include <set>
#include <tuple>

namespace loopwalk::base {
namespace {

Finding finding(Severity severity, Rule rule, AssetLayer layer, std::string id,
                std::optional<Point2> place = {}) {
    Finding f;
    f.severity = severity;
    f.rule = rule;
    f.layer = layer;
    f.asset_id = std::move(id);
    f.place = place;
    return f;
}

/// In the order that the output promises.
std::vector<Finding> in_order() {
    std::vector<Finding> list{
        finding(Severity::danger, Rule::fed_twice, AssetLayer::columns, "C9"),
        finding(Severity::danger, Rule::supplies_joined, AssetLayer::cables, "A1"),
        finding(Severity::fail, Rule::not_traced, AssetLayer::columns, "A2"),
        finding(Severity::fail, Rule::not_traced, AssetLayer::columns, "B1"),
        finding(Severity::fail, Rule::not_traced, AssetLayer::cables, "A1"),
        finding(Severity::warning, Rule::loose_end, AssetLayer::cables, "A1"),
        finding(Severity::warning, Rule::loose_end, AssetLayer::cables, "A1", Point2{1, 9}),
        finding(Severity::warning, Rule::loose_end, AssetLayer::cables, "A1", Point2{2, 3}),
        finding(Severity::warning, Rule::loose_end, AssetLayer::cables, "A1", Point2{2, 4}),
        finding(Severity::note, Rule::tee_assumed, AssetLayer::cables, "A1", Point2{2, 4}),
        finding(Severity::note, Rule::tee_assumed, AssetLayer::cables, "A1", Point2{2, 4}),
        finding(Severity::note, Rule::tee_assumed, AssetLayer::cables, "A1", Point2{2, 4}),
    };
    list[10].value = 0.25;
    list[11].value = 0.5;
    return list;
}

auto fields(const Finding& f) {
    return std::tuple(f.severity, f.rule, f.layer, f.asset_id, f.place, f.value);
}

TEST(FindingList, NoInputOrderChangesTheOutput) {
    const std::vector<Finding> expected = in_order();
    std::mt19937 random(7);
    for (int round = 0; round < 50; ++round) {
        std::vector<Finding> shuffled = expected;
        std::shuffle(shuffled.begin(), shuffled.end(), random);
        FindingList list;
        for (Finding& f : shuffled) {
            list.add(std::move(f));
        }
        list.sort();
        ASSERT_EQ(list.all().size(), expected.size());
        for (std::size_t i = 0; i < expected.size(); ++i) {
            ASSERT_EQ(fields(list.all()[i]), fields(expected[i])) << "row " << i;
        }
    }
}

TEST(FindingList, SortsPlacesThatAreNotNumbers) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    FindingList list;
    for (const double x : {nan, 2.0, nan, 1.0}) {
        list.add(finding(Severity::warning, Rule::bad_geometry, AssetLayer::columns, "A",
                         Point2{x, 0.0}));
    }
    list.sort();
    EXPECT_EQ(list.all()[0].place->x, 1.0);
    EXPECT_EQ(list.all()[1].place->x, 2.0);
}

TEST(FindingNames, RulesAreNamedAsDocumented) {
    std::set<std::string_view> names;
    for (int i = 0; i <= static_cast<int>(Rule::reading_low); ++i) {
        names.insert(rule_name(static_cast<Rule>(i)));
    }
    // The rules that the findings' page lists for this part of the program.
    const std::set<std::string_view> documented{"not-traced",
                                                "fed-twice",
                                                "supplies-joined",
                                                "phases-joined",
                                                "loose-end",
                                                "live-end",
                                                "fuse-larger-than-upstream",
                                                "electrode-high",
                                                "second-supply",
                                                "ways-joined",
                                                "three-phase-in-column",
                                                "feed-differs",
                                                "owner-differs",
                                                "no-earth-path",
                                                "sockets-without-rcd",
                                                "two-phases-in-column",
                                                "near-miss",
                                                "tee-assumed",
                                                "cut-assumed",
                                                "ambiguous-snap",
                                                "ring",
                                                "duplicate-id",
                                                "duplicate-geometry",
                                                "zero-length",
                                                "column-beside-column",
                                                "bad-geometry",
                                                "bad-value",
                                                "outlier-place",
                                                "length-differs",
                                                "circuit-differs",
                                                "type-unknown",
                                                "fuse-unknown",
                                                "slow-way",
                                                "way-without-cable",
                                                "slow-cut-out",
                                                "thin-margin",
                                                "breaking-capacity",
                                                "volt-drop",
                                                "overload",
                                                "main-fuse-only",
                                                "breaker-in-column",
                                                "fuse-in-neutral",
                                                "pen-in-installation",
                                                "earths-within-reach",
                                                "load-point-over",
                                                "way-load-over",
                                                "reading-over-limit",
                                                "reading-high",
                                                "reading-low",
                                                "earth-path-heat",
                                                "conductor-heat",
                                                "cable-unprotected",
                                                "no-discrimination",
                                                "no-rcd",
                                                "earths-joined",
                                                "neutral-earth-exposure",
                                                "earth-exposure",
                                                "ev-on-pme"};
    EXPECT_EQ(names, documented);
}

TEST(FindingNames, LayersReadBack) {
    for (std::size_t i = 0; i < kAssetLayerCount; ++i) {
        const auto layer = static_cast<AssetLayer>(i);
        EXPECT_FALSE(layer_name(layer).empty());
        EXPECT_EQ(layer_of(layer_name(layer)), layer);
    }
    EXPECT_EQ(layer_of(" Columns "), AssetLayer::columns);
    EXPECT_FALSE(layer_of("column").has_value());
    EXPECT_EQ(severity_name(Severity::danger), "danger");
    EXPECT_EQ(severity_name(Severity::note), "note");
}

} // namespace
} // namespace loopwalk::base
