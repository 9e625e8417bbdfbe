// Networks of one conductor against closed formulas and a dense solution by Gaussian elimination.
#include "loopwalk/solution/nodal.hpp"

#include <gtest/gtest.h>

#include <random>

namespace loopwalk::solution {
namespace {

using Complex = std::complex<double>;

struct Branch {
    std::uint32_t a, b;
    Complex ohms;
};

/// Second way to the same numbers: the nodal matrix inverted with partial pivoting; node 0 is held.
std::vector<std::vector<Complex>> inverse(std::uint32_t nodes,
                                          const std::vector<Branch>& branches) {
    const std::uint32_t n = nodes - 1;
    std::vector<std::vector<Complex>> m(n, std::vector<Complex>(2 * std::size_t{n}));
    for (std::uint32_t i = 0; i < n; ++i) {
        m[i][n + i] = 1.0;
    }
    for (const Branch& branch : branches) {
        const Complex y = 1.0 / branch.ohms;
        for (const auto& [p, q] : {std::pair(branch.a, branch.b), std::pair(branch.b, branch.a)}) {
            if (p != 0 && p != q) {
                m[p - 1][p - 1] += y;
                if (q != 0) {
                    m[p - 1][q - 1] -= y;
                }
            }
        }
    }
    for (std::uint32_t c = 0; c < n; ++c) {
        std::uint32_t pivot = c;
        for (std::uint32_t r = c; r < n; ++r) {
            pivot = std::abs(m[r][c]) > std::abs(m[pivot][c]) ? r : pivot;
        }
        std::swap(m[c], m[pivot]);
        for (std::uint32_t r = 0; r < n; ++r) {
            const Complex factor = r == c ? m[r][c] - 1.0 : m[r][c];
            const Complex scale = factor / m[c][c];
            for (std::uint32_t k = c; k < 2 * n; ++k) {
                m[r][k] -= scale * m[c][k];
            }
        }
    }
    for (auto& row : m) {
        row.erase(row.begin(), row.begin() + n);
    }
    return m;
}

double relative(Complex a, Complex b) {
    return std::abs(a - b) / std::abs(b);
}

TEST(NodalNetwork, RunOfBranchesAddsUp) {
    NodalNetwork net(4);
    net.connect(0, 1, {0.1, 0.01});
    net.connect(1, 2, {0.2, 0.02});
    net.connect(2, 3, {0.3, 0.03});
    net.hold(0);
    net.solve();
    EXPECT_LT(relative(net.driving_point(3), {0.6, 0.06}), 1e-15);
    EXPECT_LT(relative(net.transfer(3, 2), {0.3, 0.03}), 1e-15);
}

TEST(NodalNetwork, RingIsTheTwoWaysInParallel) {
    NodalNetwork net(3);
    net.connect(0, 1, 1.0);
    net.connect(1, 2, 2.0);
    net.connect(2, 0, 3.0);
    net.hold(0);
    net.solve();
    EXPECT_DOUBLE_EQ(net.driving_point(1).real(), 1.0 * 5.0 / 6.0);
    EXPECT_DOUBLE_EQ(net.driving_point(2).real(), 3.0 * 3.0 / 6.0);
    EXPECT_DOUBLE_EQ(net.transfer(1, 2).real(), 1.0 * 3.0 / 6.0);
}

TEST(NodalNetwork, ParallelBranchesAndOneBackToItself) {
    NodalNetwork net(2);
    net.connect(0, 1, 2.0);
    net.connect(1, 0, 2.0);
    net.connect(1, 1, 5.0);
    net.hold(0);
    net.solve();
    EXPECT_DOUBLE_EQ(net.driving_point(1).real(), 1.0);
}

TEST(NodalNetwork, AMillimetreBesideKilometresLosesNoDigits) {
    NodalNetwork net(3);
    net.connect(0, 1, 1e6);
    net.connect(1, 2, 1e-6);
    net.hold(0);
    net.solve();
    EXPECT_DOUBLE_EQ(net.driving_point(2).real(), 1e6 + 1e-6);
    EXPECT_DOUBLE_EQ((net.driving_point(2) - net.driving_point(1)).real(), 1e6 + 1e-6 - 1e6);
}

TEST(NodalNetwork, WhatNothingHoldsUpHasNoPotential) {
    NodalNetwork net(4);
    net.connect(0, 1, 1.0);
    net.connect(2, 3, 1.0);
    net.hold(0);
    net.solve();
    EXPECT_TRUE(net.is_held_up(1));
    EXPECT_FALSE(net.is_held_up(2));
    EXPECT_FALSE(net.is_held_up(3));
}

TEST(NodalNetwork, RandomMeshesAgreeWithTheDenseInverse) {
    std::mt19937 random(20261125);
    std::uniform_real_distribution<double> ohms(0.001, 3.0);
    const auto below = [&random](std::uint32_t n) {
        return std::uniform_int_distribution<std::uint32_t>(0, n - 1)(random);
    };
    double worst = 0.0;
    for (int round = 0; round < 60; ++round) {
        const std::uint32_t nodes = 2 + below(25);
        std::vector<Branch> branches;
        for (std::uint32_t n = 1; n < nodes; ++n) {
            branches.push_back({below(n), n, {ohms(random), 0.2 * ohms(random)}});
        }
        const std::uint32_t loops = below(20);
        for (std::uint32_t l = 0; l < loops; ++l) {
            branches.push_back({below(nodes), below(nodes), {ohms(random), 0.2 * ohms(random)}});
        }
        NodalNetwork net(nodes);
        for (const Branch& b : branches) {
            net.connect(b.a, b.b, b.ohms);
        }
        net.hold(0);
        net.solve();
        const auto expected = inverse(nodes, branches);
        std::vector<Complex> volts(nodes);
        volts[nodes - 1] = 1.0;
        net.potentials(volts);
        for (std::uint32_t n = 1; n < nodes; ++n) {
            worst = std::max(worst, relative(net.driving_point(n), expected[n - 1][n - 1]));
            worst = std::max(worst, relative(volts[n], expected[n - 1][nodes - 2]));
        }
        for (const Branch& b : branches) {
            if (b.a != 0 && b.b != 0) {
                worst =
                    std::max(worst, relative(net.transfer(b.a, b.b), expected[b.a - 1][b.b - 1]));
            }
        }
    }
    EXPECT_LT(worst, 1e-11);
}

} // namespace
} // namespace loopwalk::solution
