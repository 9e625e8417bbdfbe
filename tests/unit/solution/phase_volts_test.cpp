// Voltages of three-phase circuits where the iteration can lead nowhere.
#include "loopwalk/solution/phase_volts.hpp"

#include <gtest/gtest.h>

namespace loopwalk::solution {
namespace {

// As for one phase (volt_drop_test.cpp): u0^2 / R leaves no voltage in the first sweep and no
// number in the second. The load at node 2 settles by itself and must not hide it.
TEST(SolvePhases, WhatIsNoNumberIsNoSolution) {
    const double u0 = 230.0;
    const DropNetwork line(3, {{0, 1, 1.0}, {0, 2, 0.5}}, {0});
    const DropNetwork neutral(3, {{0, 1, 0.0}, {0, 2, 0.0}}, {0});
    const std::vector<PhaseLoad> loads = {{1, 0, u0 * u0}, {2, 1, 100.0}};
    EXPECT_FALSE(solve_phases(line, neutral, loads, u0).has_value());
    EXPECT_TRUE(solve_phases(line, neutral, {{2, 1, 100.0}}, u0).has_value());
}

} // namespace
} // namespace loopwalk::solution
