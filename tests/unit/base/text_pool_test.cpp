#include "loopwalk/base/text_pool.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace loopwalk::base {
namespace {

TEST(TextPool, EqualTextsShareAnId) {
    TextPool pool;
    const TextId a = pool.add("C1");
    const TextId b = pool.add("C2");
    EXPECT_NE(a, b);
    EXPECT_EQ(pool.add("C1"), a);
    EXPECT_EQ(pool.size(), 2U);
    EXPECT_EQ(pool.view(b), "C2");
    EXPECT_EQ(pool.find("C2"), b);
    EXPECT_FALSE(pool.find("c2").has_value()); // ids are compared as they are
}

TEST(TextPool, NullIsNotTheEmptyText) {
    TextPool pool;
    EXPECT_EQ(pool.view(TextId()), "");
    EXPECT_FALSE(pool.find("").has_value());
    const TextId empty = pool.add("");
    EXPECT_TRUE(empty.is_valid());
    EXPECT_EQ(pool.view(empty), "");
}

TEST(TextPool, AddsAPartOfItself) {
    TextPool pool;
    const std::string long_text(1000, 'x');
    TextId id = pool.add(long_text);
    for (int i = 0; i < 500; ++i) {
        id = pool.add(pool.view(id).substr(1)); // the pool's memory moves under this view
    }
    EXPECT_EQ(pool.view(id), std::string(500, 'x'));
}

TEST(TextPool, HoldsAHundredThousandTexts) {
    TextPool pool;
    std::vector<TextId> ids;
    for (int i = 0; i < 100000; ++i) {
        ids.push_back(pool.add("LC" + std::to_string(i)));
    }
    EXPECT_EQ(pool.size(), 100000U);
    for (std::size_t i = 0; i < ids.size(); ++i) {
        const std::string text = "LC" + std::to_string(i);
        ASSERT_EQ(ids[i].index(), i);
        ASSERT_EQ(pool.view(ids[i]), text);
        ASSERT_EQ(pool.find(text), ids[i]);
        ASSERT_EQ(pool.add(text), ids[i]);
    }
    EXPECT_FALSE(pool.find("LC100000").has_value());
    EXPECT_EQ(pool.size(), 100000U);
}

} // namespace
} // namespace loopwalk::base
