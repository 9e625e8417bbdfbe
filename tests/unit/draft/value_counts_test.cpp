#include "loopwalk/draft/value_counts.hpp"

#include <gtest/gtest.h>

namespace loopwalk::draft {
namespace {

TEST(ValueCounts, CountsFewValuesExactly) {
    ValueCounts values;
    for (const char* text : {"b", " a ", "a", "", "  ", "A"}) {
        values.add(text);
    }
    EXPECT_EQ(values.total(), 4U);
    EXPECT_EQ(values.distinct(), 3.0);
    ASSERT_EQ(values.entries().size(), 3U);
    EXPECT_EQ(values.entries()[0].text, "a");
    EXPECT_EQ(values.entries()[0].count, 2U);
    EXPECT_EQ(values.entries()[1].text, "A"); // equals by text
}

/// `count` different values, each `times` times, in either order.
ValueCounts many(int from, int count, int times, bool backwards) {
    ValueCounts values;
    for (int round = 0; round < times; ++round) {
        for (int i = 0; i < count; ++i) {
            values.add("id " + std::to_string(from + (backwards ? count - 1 - i : i)));
        }
    }
    return values;
}

TEST(ValueCounts, EstimatesManyValuesInBoundedMemory) {
    const ValueCounts values = many(0, 100000, 2, false);
    EXPECT_FALSE(values.is_complete());
    EXPECT_EQ(values.entries().size(), ValueCounts::kMost);
    EXPECT_EQ(values.total(), 200000U);
    // Three standard errors of 1.6 %.
    EXPECT_NEAR(values.distinct(), 100000.0, 0.05 * 100000.0);
    for (const ValueCounts::Entry& entry : values.entries()) {
        EXPECT_EQ(entry.count, 2U);
    }
}

TEST(ValueCounts, DoNotShowTheOrder) {
    const auto forwards = many(0, 20000, 1, false).entries();
    const auto backwards = many(0, 20000, 1, true).entries();
    ASSERT_EQ(forwards.size(), backwards.size());
    for (std::size_t i = 0; i < forwards.size(); ++i) {
        EXPECT_EQ(forwards[i].text, backwards[i].text);
    }
}

TEST(ValueCounts, TellHowManyAreFoundElsewhere) {
    const ValueCounts ids = many(0, 50000, 1, false);
    EXPECT_EQ(many(100, 1000, 3, false).share_found_in(ids), 1.0);
    EXPECT_EQ(many(50000, 1000, 1, false).share_found_in(ids), 0.0);
    // A quarter of 40,000 lies within the first 50,000; the samples hold some 3,000 of each.
    EXPECT_NEAR(many(40000, 40000, 1, false).share_found_in(ids), 0.25, 0.03);
    EXPECT_EQ(ValueCounts().share_found_in(ids), 0.0);
}

} // namespace
} // namespace loopwalk::draft
