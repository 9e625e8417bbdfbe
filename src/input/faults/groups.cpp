#include "groups.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace loopwalk::input {

namespace {

using Cell = std::pair<std::int64_t, std::int64_t>;
using Members = std::vector<std::uint32_t>;

/// Places by square cells whose diagonal is one step: the members of a cell are of one group.
class Cells {
  public:
    Cells(const std::vector<base::Point2>& places, double step) : m_places(places), m_step(step) {
        const double side = step / std::sqrt(2.0) * (1.0 - 1e-9);
        for (std::uint32_t i = 0; i < places.size(); ++i) {
            m_cells[{number(places[i].x, side), number(places[i].y, side)}].push_back(i);
        }
    }

    [[nodiscard]] std::vector<std::uint32_t> groups() {
        std::vector<std::uint32_t> groups(m_places.size(), kNone);
        std::uint32_t next = 0;
        for (const auto& [cell, members] : m_cells) {
            if (groups[members.front()] == kNone) {
                spread(cell, next++, groups);
            }
        }
        return groups;
    }

  private:
    static constexpr std::uint32_t kNone = ~std::uint32_t{0};

    /// Far beyond any map all lie in the last cell.
    static std::int64_t number(double coordinate, double side) {
        constexpr double kMost = 1e15;
        return static_cast<std::int64_t>(std::clamp(std::floor(coordinate / side), -kMost, kMost));
    }
    [[nodiscard]] bool touch(const Members& a, const Members& b) const {
        return std::any_of(a.begin(), a.end(), [&](std::uint32_t i) {
            return std::any_of(b.begin(), b.end(), [&](std::uint32_t j) {
                return base::distance(m_places[i], m_places[j]) <= m_step;
            });
        });
    }
    void spread(const Cell& start, std::uint32_t group, std::vector<std::uint32_t>& groups) const {
        std::vector<Cell> open{start};
        mark(m_cells.at(start), group, groups);
        while (!open.empty()) {
            const Cell cell = open.back();
            open.pop_back();
            const Members& own = m_cells.at(cell);
            for (std::int64_t dx = -2; dx <= 2; ++dx) { // a step reaches two cells far
                for (std::int64_t dy = -2; dy <= 2; ++dy) {
                    const auto other = m_cells.find({cell.first + dx, cell.second + dy});
                    if (other != m_cells.end() && groups[other->second.front()] == kNone &&
                        touch(own, other->second)) {
                        mark(other->second, group, groups);
                        open.push_back(other->first);
                    }
                }
            }
        }
    }
    static void mark(const Members& members, std::uint32_t group,
                     std::vector<std::uint32_t>& groups) {
        for (const std::uint32_t i : members) {
            groups[i] = group;
        }
    }

    const std::vector<base::Point2>& m_places;
    double m_step;
    std::map<Cell, Members> m_cells; ///< in order, so that groups are numbered the same each time
};

} // namespace

std::vector<std::uint32_t> groups_of(const std::vector<base::Point2>& places, double step) {
    return Cells(places, step).groups();
}

} // namespace loopwalk::input
