#include "loopwalk/suspects/explain.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>

namespace loopwalk::suspects {
namespace {

constexpr std::size_t kMostInThrees = 40;

/// Room for three places; of fewer, the rest is as if of places that nothing leads through.
using Small = Eigen::Matrix3d;
using SmallVector = Eigen::Vector3d;
using Index = Eigen::Index;

Index index_of(std::size_t i) {
    return static_cast<Index>(i);
}

/// The least-squares problem by its normal equations: every set of places is a part of them.
class Search {
  public:
    Search(std::span<const Excess> readings, std::span<const Beyond> places)
        : m_normal(Eigen::MatrixXd::Zero(index_of(places.size()), index_of(places.size()))),
          m_right(Eigen::VectorXd::Zero(index_of(places.size()))), m_alone(places.size(), kNone),
          m_best(places.size()), m_readings(readings.size()) {
        fill(readings, places);
    }

    std::vector<Explanation> ranked();

  private:
    static constexpr double kNone = std::numeric_limits<double>::infinity();
    struct Set {
        double cost = kNone;
        SmallVector extra;
        std::vector<std::size_t> places;
    };

    void fill(std::span<const Excess> readings, std::span<const Beyond> places);
    void search();
    void look_at(const std::vector<std::size_t>& places);
    [[nodiscard]] Small part(const std::vector<std::size_t>& places) const;
    [[nodiscard]] double price(std::size_t count) const;
    [[nodiscard]] Explanation explanation(std::size_t place, double all) const;

    Eigen::MatrixXd m_normal;
    Eigen::VectorXd m_right;
    double m_nothing = 0.0;      ///< weighted squares of the readings themselves
    std::vector<double> m_alone; ///< by place: least cost alone or with one other
    std::vector<Set> m_best;     ///< by place: of the sets that hold it
    std::vector<std::pair<double, std::vector<std::size_t>>> m_sets; ///< cost and places
    std::size_t m_readings;
};

void Search::fill(std::span<const Excess> readings, std::span<const Beyond> places) {
    const auto weight = [&](std::uint32_t r) {
        const double sigma = readings[r].sigma.value();
        return 1.0 / (sigma * sigma);
    };
    for (std::uint32_t r = 0; r < readings.size(); ++r) {
        m_nothing += weight(r) * readings[r].ohms.value() * readings[r].ohms.value();
    }
    std::vector<std::vector<Index>> through(readings.size()); // places on the way to a reading
    for (std::size_t p = 0; p < places.size(); ++p) {
        for (const std::uint32_t r : places[p]) {
            through[r].push_back(index_of(p));
            m_right(index_of(p)) += weight(r) * readings[r].ohms.value();
        }
    }
    for (std::uint32_t r = 0; r < readings.size(); ++r) {
        for (const Index a : through[r]) {
            for (const Index b : through[r]) {
                m_normal(a, b) += weight(r);
            }
        }
    }
}

Small Search::part(const std::vector<std::size_t>& places) const {
    Small normal = Small::Identity() * m_normal(index_of(places[0]), index_of(places[0]));
    for (std::size_t a = 0; a < places.size(); ++a) {
        for (std::size_t b = 0; b < places.size(); ++b) {
            normal(index_of(a), index_of(b)) = m_normal(index_of(places[a]), index_of(places[b]));
        }
    }
    return normal;
}

/// Of the Bayesian information criterion, with the number of sets that could have been chosen.
double Search::price(std::size_t count) const {
    double price = static_cast<double>(count) * std::log(static_cast<double>(m_readings));
    for (std::size_t k = 0; k < count; ++k) {
        price +=
            2.0 * std::log(static_cast<double>(m_best.size() - k) / static_cast<double>(k + 1));
    }
    return price;
}

/// Where one of the places comes out negative, non-negative least squares leaves it out: that is a
/// smaller set, which is looked at on its own.
void Search::look_at(const std::vector<std::size_t>& places) {
    SmallVector right = SmallVector::Zero();
    for (std::size_t k = 0; k < places.size(); ++k) {
        right(index_of(k)) = m_right(index_of(places[k]));
    }
    const Eigen::LDLT<Small> solver(part(places));
    if (solver.info() != Eigen::Success || solver.rcond() < 1e-10) { // they cannot be told apart
        return;
    }
    const SmallVector extra = solver.solve(right);
    if (extra.head(index_of(places.size())).minCoeff() <= 0.0) {
        return;
    }
    const double cost = m_nothing - extra.dot(right) + price(places.size());
    m_sets.emplace_back(cost, places);
    for (const std::size_t place : places) {
        if (places.size() < 3) {
            m_alone[place] = std::min(m_alone[place], cost);
        }
        if (cost < m_best[place].cost - 1e-9) { // of equals the first, whatever the rounding
            m_best[place] = {cost, extra, places};
        }
    }
}

void Search::search() {
    const std::size_t count = m_best.size();
    for (std::size_t a = 0; a < count; ++a) {
        look_at({a});
        for (std::size_t b = a + 1; b < count; ++b) {
            look_at({a, b});
        }
    }
    std::vector<std::size_t> likely(count);
    std::iota(likely.begin(), likely.end(), std::size_t{0});
    std::stable_sort(likely.begin(), likely.end(),
                     [&](std::size_t a, std::size_t b) { return m_alone[a] < m_alone[b]; });
    likely.resize(std::min(count, kMostInThrees));
    for (std::size_t a = 0; a < likely.size(); ++a) {
        for (std::size_t b = a + 1; b < likely.size(); ++b) {
            for (std::size_t c = b + 1; c < likely.size(); ++c) {
                look_at({likely[a], likely[b], likely[c]});
            }
        }
    }
}

Explanation Search::explanation(std::size_t place, double share) const {
    const Set& set = m_best[place];
    const auto at = static_cast<Index>(std::ranges::find(set.places, place) - set.places.begin());
    const Small normal = part(set.places);
    const Small spread = normal.ldlt().solve(Small::Identity());
    const double extra = set.extra(at);
    const double two_sigma = 2.0 * std::sqrt(spread(at, at));
    return {static_cast<std::uint32_t>(place), base::Ohm(extra),
            base::Ohm(std::max(0.0, extra - two_sigma)), base::Ohm(extra + two_sigma), share};
}

std::vector<Explanation> Search::ranked() {
    search();
    double least = m_nothing;
    for (const auto& [cost, places] : m_sets) {
        least = std::min(least, cost);
    }
    std::vector<double> share(m_best.size(), 0.0);
    double all = std::exp((least - m_nothing) / 2.0);
    for (const auto& [cost, places] : m_sets) {
        const double weight = std::exp((least - cost) / 2.0);
        all += weight;
        for (const std::size_t place : places) {
            share[place] += weight;
        }
    }
    std::vector<Explanation> result;
    for (std::size_t place = 0; place < m_best.size(); ++place) {
        if (m_best[place].cost < kNone) {
            result.push_back(explanation(place, share[place] / all));
        }
    }
    std::stable_sort(result.begin(), result.end(),
                     [](const Explanation& a, const Explanation& b) { return a.share > b.share; });
    return result;
}

} // namespace

std::vector<Explanation> explain(std::span<const Excess> readings, std::span<const Beyond> places) {
    return Search(readings, places).ranked();
}

} // namespace loopwalk::suspects
