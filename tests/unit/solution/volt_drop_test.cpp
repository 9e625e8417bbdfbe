// Voltages of radial circuits against the exact solution for one load and published examples.
#include "loopwalk/solution/volt_drop.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

namespace loopwalk::solution {
namespace {

using Complex = std::complex<double>;

RadialCircuit one_load(Complex ohms, Complex va) {
    RadialCircuit circuit;
    circuit.add(0, 0.0, 0.0);
    circuit.add(0, ohms, va);
    return circuit;
}

/// Exact: with v = |V|^2 and Z conj(S) = a + jb, v^2 - (u0^2 - 2 a) v + |Z|^2 |S|^2 = 0, the larger
/// root (from V conj(V) + Z conj(S) = u0 conj(V), taken by magnitude).
double exact_voltage(Complex ohms, Complex va, double u0) {
    const double half = u0 * u0 / 2.0 - (ohms * std::conj(va)).real();
    const double product = std::norm(ohms) * std::norm(va);
    return std::sqrt(half + std::sqrt(half * half - product));
}

TEST(SolveRadial, OneLoadAgreesWithTheQuadratic) {
    for (const Complex& va : {Complex(100, 0), Complex(1500, 726), Complex(5000, -1000)}) {
        const Complex ohms(0.9, 0.3);
        const auto solution = solve_radial(one_load(ohms, va), 230.0);
        ASSERT_TRUE(solution.has_value());
        EXPECT_NEAR(std::abs(solution->voltage[1]), exact_voltage(ohms, va, 230.0), 1e-7);
    }
}

TEST(SolveRadial, NoLoadDropsNothing) {
    const auto solution = solve_radial(one_load({0.9, 0.3}, 0.0), 230.0);
    ASSERT_TRUE(solution.has_value());
    EXPECT_EQ(solution->voltage[1], Complex(230.0, 0.0));
}

TEST(SolveRadial, CollapseHasNoVoltage) {
    // The most a resistive line of 1 ohm can carry is u0^2 / 4 = 13,225 W.
    EXPECT_TRUE(solve_radial(one_load(1.0, 13000.0), 230.0).has_value());
    EXPECT_FALSE(solve_radial(one_load(1.0, 13300.0), 230.0).has_value());
    EXPECT_FALSE(solve_radial(one_load(1.0, 100000.0), 230.0).has_value());
}

TEST(SolveRadial, WhatIsNoNumberIsNoSolution) {
    // u0^2 / R drops the whole voltage in the first sweep: the next current is infinite, then there
    // is no number at all. A second load that settles must not hide it.
    const double u0 = 230.0;
    RadialCircuit circuit = one_load(1.0, u0 * u0);
    circuit.add(0, 0.5, 100.0);
    EXPECT_FALSE(solve_radial(circuit, u0).has_value());
}

TEST(SolveRadial, PublishedTappedDistributor) {
    // Principles of Power System, example 13.1 (p313): 300 V, 0.02 ohm per km of loop; 100, 150,
    // 200, 50 A at 500, 1000, 1600, 2000 m. Published 295.0, 291.0, 288.0, 287.6 V.
    constexpr std::array kMetres = {500.0, 500.0, 600.0, 400.0};
    constexpr std::array kAmperes = {100.0, 150.0, 200.0, 50.0};
    constexpr std::array kVolts = {295.0, 291.0, 288.0, 287.6};
    RadialCircuit circuit;
    circuit.add(0, 0.0, 0.0);
    for (std::uint32_t i = 0; i < kMetres.size(); ++i) {
        circuit.add(i, 0.02 * kMetres[i] / 1000.0, kAmperes[i] * kVolts[i]);
    }
    const auto solution = solve_radial(circuit, 300.0);
    ASSERT_TRUE(solution.has_value());
    for (std::size_t i = 0; i < kVolts.size(); ++i) {
        EXPECT_NEAR(std::abs(solution->voltage[i + 1]), kVolts[i], 1e-6);
    }
    EXPECT_NEAR(std::abs(solution->current[0]), 500.0, 1e-5);
}

TEST(SolveRadial, BranchesShareTheirTrunk) {
    // 1 ohm of trunk, two equal branches of 1 ohm: at the fork both currents drop together.
    RadialCircuit circuit;
    circuit.add(0, 0.0, 0.0);
    circuit.add(0, 1.0, 0.0);
    circuit.add(1, 1.0, 2.0 * 94.0); // 2 A at 94 V
    circuit.add(1, 1.0, 2.0 * 94.0);
    const auto solution = solve_radial(circuit, 100.0);
    ASSERT_TRUE(solution.has_value());
    EXPECT_NEAR(solution->voltage[1].real(), 96.0, 1e-8);
    EXPECT_NEAR(solution->voltage[3].real(), 94.0, 1e-8);
}

} // namespace
} // namespace loopwalk::solution
