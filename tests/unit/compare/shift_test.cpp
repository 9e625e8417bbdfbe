// The distance between two records of one line, against a plain search over all pairs and against
// what is known beforehand.
#include <gtest/gtest.h>

#include "../../../src/compare/shift.hpp"
#include <chrono>
#include <cmath>
#include <limits>
#include <random>

namespace loopwalk::compare {
namespace {

const Heed kNever = [] {};

/// By definition: for every vertex the nearest of all segments.
double by_all_pairs(const Lines& a, const Lines& b) {
    double farthest = 0.0;
    for (const auto& [from, to] : {std::pair(&a, &b), std::pair(&b, &a)}) {
        for (const base::Polyline& line : *from) {
            for (const base::Point2 vertex : line) {
                double nearest = std::numeric_limits<double>::infinity();
                for (const base::Polyline& other : *to) {
                    nearest = std::min(nearest, base::nearest_on_line(vertex, other).distance);
                }
                farthest = std::max(farthest, nearest);
            }
        }
    }
    return farthest;
}

/// An even sampling of a sine; `x` and `y` metres away.
base::Polyline wave(std::size_t vertices, double x, double y) {
    base::Polyline line;
    for (std::size_t i = 0; i < vertices; ++i) {
        const double at = static_cast<double>(i) * 0.1;
        line.push_back({530000.0 + at + x, 180000.0 + std::sin(at) + y});
    }
    return line;
}

TEST(Shift, OfPointsIsTheirDistance) {
    EXPECT_DOUBLE_EQ(shift({{{0, 0}}}, {{{3, 4}}}, kNever), 5.0);
}

TEST(Shift, ALineAgainstOneFewerVerticesOfTheSameCourseHasNotMoved) {
    EXPECT_DOUBLE_EQ(shift({{{0, 0}, {5, 0}, {10, 0}}}, {{{0, 0}, {10, 0}}}, kNever), 0.0);
}

TEST(Shift, IsTheSameBothWays) {
    const Lines a{{{0, 0}, {10, 0}}};
    const Lines b{{{0, 0}, {10, 0}, {10, 7}}};
    EXPECT_DOUBLE_EQ(shift(a, b, kNever), 7.0);
    EXPECT_DOUBLE_EQ(shift(b, a, kNever), 7.0);
}

TEST(Shift, AgreesWithAllPairs) {
    std::mt19937 random(7); // NOLINT(cert-msc32-c,cert-msc51-cpp): the same lines each time
    std::uniform_real_distribution<double> place(0.0, 50.0);
    for (int round = 0; round < 50; ++round) {
        Lines a(2);
        Lines b(3);
        for (Lines* lines : {&a, &b}) {
            for (base::Polyline& line : *lines) {
                for (int i = 0; i < 12; ++i) {
                    line.push_back({place(random), place(random)});
                }
            }
        }
        EXPECT_DOUBLE_EQ(shift(a, b, kNever), by_all_pairs(a, b));
    }
}

TEST(Shift, ThirtyThousandVerticesTakeNoMinutes) {
    using Clock = std::chrono::steady_clock;
    for (const double away : {0.3, 1000.0}) {
        const Clock::time_point start = Clock::now();
        const double moved = shift({wave(30000, 0, 0)}, {wave(30000, 0, away)}, kNever);
        EXPECT_LE(moved, away);
        EXPECT_GT(moved, 0.1);
        EXPECT_LT(std::chrono::duration<double>(Clock::now() - start).count(), 10.0) << away;
    }
}

} // namespace
} // namespace loopwalk::compare
