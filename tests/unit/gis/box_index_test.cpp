#include "loopwalk/gis/box_index.hpp"

#include <gtest/gtest.h>

#include <random>
#include <utility>

namespace {

using loopwalk::base::Box;
using loopwalk::gis::BoxIndex;

using Items = std::vector<std::uint32_t>;

bool meet(const Box& a, const Box& b) {
    return a.min_x <= b.max_x && b.min_x <= a.max_x && a.min_y <= b.max_y && b.min_y <= a.max_y;
}

Items every_meeting_box(const std::vector<Box>& boxes, const Box& query) {
    Items items;
    for (std::uint32_t i = 0; i < boxes.size(); ++i) {
        if (meet(boxes[i], query)) {
            items.push_back(i);
        }
    }
    return items;
}

TEST(BoxIndex, AnswersWithWhatAScanOfAllBoxesFinds) {
    std::mt19937 random(20240517);
    std::uniform_int_distribution<int> place(0, 40);
    std::uniform_int_distribution<int> size(0, 6); // 0: points and upright or level lines
    const auto any_box = [&] {
        const double x = place(random);
        const double y = place(random);
        return Box{x, y, x + size(random), y + size(random)};
    };
    std::vector<Box> boxes(700);
    for (Box& box : boxes) {
        box = any_box();
    }
    const BoxIndex index(boxes);
    Items found;
    for (int i = 0; i < 500; ++i) {
        const Box query = any_box();
        index.query(query, found);
        EXPECT_EQ(found, every_meeting_box(boxes, query));
    }
}

TEST(BoxIndex, BoxesThatOnlyTouchMeet) {
    const BoxIndex index({Box{0, 0, 1, 1}, Box{1, 1, 2, 2}, Box{5, 5, 5, 5}});
    Items found;
    index.query(Box{1, 1, 1, 1}, found);
    EXPECT_EQ(found, (Items{0, 1}));
    index.query(Box{2, 2, 5, 5}, found);
    EXPECT_EQ(found, (Items{1, 2}));
}

TEST(BoxIndex, ForgetsTheLastAnswer) {
    const BoxIndex index({Box{0, 0, 1, 1}});
    Items found{7, 8, 9};
    index.query(Box{3, 3, 4, 4}, found);
    EXPECT_TRUE(found.empty());
}

TEST(BoxIndex, NothingIsFoundInAnEmptyIndex) {
    const BoxIndex index({});
    Items found;
    index.query(Box{-1e9, -1e9, 1e9, 1e9}, found);
    EXPECT_TRUE(found.empty());
}

TEST(BoxIndex, AnswersAfterAMove) {
    BoxIndex first({Box{0, 0, 1, 1}});
    BoxIndex second = std::move(first);
    Items found;
    second.query(Box{0, 0, 0, 0}, found);
    EXPECT_EQ(found, (Items{0}));
}

} // namespace
