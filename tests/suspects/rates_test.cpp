// How often the place at fault is found: random trees, faults of 0.3 to 20 ohm planted, readings at
// one column in three with the error of their instrument drawn. The arithmetic of a reading is
// written here anew; the program gets readings, predictions and errors alone.
// Prints the table of docs/suspects.md; LW_TEST_CASES: networks for each row.
#include "loopwalk/suspects/explain.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <random>
#include <set>

namespace loopwalk::suspects {
namespace {

enum class Meter : std::uint8_t { high_current, no_trip, mixed };

struct Rates {
    double first = 0.0, first_three = 0.0, all_in_five = 0.0, told = 0.0;
};

/// A tree of columns: the section to column i is place i, the inside of column i is place n + i.
class Town {
  public:
    Town(std::mt19937& random, Meter meter) : m_random(random), m_meter(meter) {
        const int columns = std::uniform_int_distribution(12, 40)(random);
        for (int c = 0; c < columns; ++c) {
            const bool is_branch = c > 0 && uniform(0.0, 1.0) < 0.15;
            m_parent.push_back(is_branch ? std::uniform_int_distribution(0, c - 1)(random) : c - 1);
            const double own = uniform(0.05, 0.25); // some 30 m of small cable
            m_ohms.push_back(own + (m_parent.back() < 0 ? 0.35 : m_ohms[at(m_parent.back())]));
        }
        for (int c = 0; c < columns; ++c) {
            if (c % 3 == 2) {
                m_read.push_back(c);
            }
        }
    }

    /// Places with a reading beyond them; others show nothing.
    [[nodiscard]] std::map<int, Beyond> places() const {
        std::map<int, Beyond> beyond;
        for (std::uint32_t r = 0; r < m_read.size(); ++r) {
            for (int c = m_read[r]; c >= 0; c = m_parent[at(c)]) {
                beyond[c].push_back(r);
            }
            beyond[static_cast<int>(m_parent.size()) + m_read[r]].push_back(r);
        }
        return beyond;
    }

    /// JCGM 100 4.3.7: within its error every value is as likely.
    [[nodiscard]] std::vector<Excess> read(const std::map<int, double>& faults) {
        std::vector<Excess> excesses;
        const std::map<int, Beyond> beyond = places();
        for (std::uint32_t r = 0; r < m_read.size(); ++r) {
            double truth = m_ohms[at(m_read[r])];
            for (const auto& [place, ohms] : faults) {
                truth += std::ranges::count(beyond.at(place), r) > 0 ? ohms : 0.0;
            }
            const bool is_high = m_meter == Meter::high_current ||
                                 (m_meter == Meter::mixed && uniform(0.0, 1.0) < 0.5);
            const auto error = [&](double z) { return is_high ? 0.05 * z + 0.05 : 0.1 * z + 0.3; };
            const double shown = std::max(0.0, truth + error(truth) * uniform(-1.0, 1.0));
            excesses.push_back({base::Ohm(shown - m_ohms[at(m_read[r])]),
                                base::Ohm(error(shown) / std::sqrt(3.0))});
        }
        return excesses;
    }
    /// As likely to be small as large: even over the logarithm.
    [[nodiscard]] double fault_ohms() { return std::exp(uniform(std::log(0.3), std::log(20.0))); }

  private:
    static std::size_t at(int i) { return static_cast<std::size_t>(i); }
    [[nodiscard]] double uniform(double low, double high) {
        return std::uniform_real_distribution(low, high)(m_random);
    }
    std::mt19937& m_random;
    Meter m_meter;
    std::vector<int> m_parent, m_read;
    std::vector<double> m_ohms;
};

/// Faults are planted at terminations and cables with a reading beyond them, of different groups.
Rates rates(int faults, Meter meter, int cases) {
    std::mt19937 random(20240611U + static_cast<unsigned>(faults) * 7U +
                        static_cast<unsigned>(meter));
    Rates sum;
    for (int i = 0; i < cases; ++i) {
        Town town(random, meter);
        std::map<Beyond, int> groups; // any place of the group stands for it
        std::vector<int> sections;
        for (const auto& [place, beyond] : town.places()) {
            if (groups.emplace(beyond, place).second) {
                sections.push_back(place);
            }
        }
        std::ranges::shuffle(sections, random);
        std::map<int, double> planted;
        for (int f = 0; f < faults; ++f) {
            planted[sections[static_cast<std::size_t>(f)]] = town.fault_ohms();
        }
        std::vector<Beyond> beyond;
        std::vector<int> place;
        for (const auto& [readings, of] : groups) {
            beyond.push_back(readings);
            place.push_back(of);
        }
        const std::vector<Excess> excesses = town.read(planted);
        const std::vector<Explanation> found = explain(excesses, beyond);
        const bool is_told = std::ranges::any_of(excesses, [](const Excess& e) {
            return e.ohms.value() > e.sigma.value() * std::sqrt(3.0);
        });
        sum.told += is_told ? 1.0 : 0.0;
        const auto hits = [&](std::size_t first) {
            int count = 0;
            for (std::size_t k = 0; k < std::min(first, found.size()); ++k) {
                count += planted.contains(place[found[k].place]) ? 1 : 0;
            }
            return count;
        };
        sum.first += hits(1) > 0 ? 1.0 : 0.0;
        sum.first_three += hits(3) > 0 ? 1.0 : 0.0;
        sum.all_in_five += hits(5) == faults ? 1.0 : 0.0;
    }
    return {100.0 * sum.first / cases, 100.0 * sum.first_three / cases,
            100.0 * sum.all_in_five / cases, 100.0 * sum.told / cases};
}

TEST(Rates, PlantedFaultsAreFound) {
    const char* asked = std::getenv("LW_TEST_CASES");
    const int cases = asked != nullptr ? std::atoi(asked) : 200;
    std::printf("| faults | meter | one first | one in first 3 | all in first 5 | told |\n");
    for (int faults = 1; faults <= 3; ++faults) {
        for (const auto& [meter, name] :
             {std::pair(Meter::high_current, "high current"), std::pair(Meter::no_trip, "no trip"),
              std::pair(Meter::mixed, "half and half")}) {
            const Rates r = rates(faults, meter, cases);
            std::printf("| %d | %s | %.1f %% | %.1f %% | %.1f %% | %.1f %% |\n", faults, name,
                        r.first, r.first_three, r.all_in_five, r.told);
            if (faults == 1 && meter != Meter::no_trip) {
                EXPECT_GE(r.first, 80.0);
                EXPECT_GE(r.first_three, 95.0);
            }
        }
    }
}

} // namespace
} // namespace loopwalk::suspects
