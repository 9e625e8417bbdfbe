#include "loopwalk/suspects/suspects.hpp"

#include "loopwalk/base/text.hpp"

#include "way_readings.hpp"
#include <algorithm>
#include <numeric>

namespace loopwalk::suspects {
namespace {

/// Suspects that are less likely are not told, but the first is.
constexpr double kLeastShare = 0.02;

/// Places by the readings beyond them: one group is one suspect.
std::map<Beyond, std::vector<Place>> groups_of(const checks::ReviewInput& in,
                                               const WayReadings& way) {
    std::map<Place, Beyond> beyond;
    std::vector<Place> order; // nearest the supply first
    for (std::uint32_t r = 0; r < way.columns.size(); ++r) {
        std::vector<Place> path = places_before(in, way.columns[r]);
        std::reverse(path.begin(), path.end());
        for (const Place& place : path) {
            Beyond& readings = beyond[place];
            if (readings.empty()) {
                order.push_back(place);
            }
            readings.push_back(r);
        }
    }
    std::map<Beyond, std::vector<Place>> groups;
    for (const Place& place : order) {
        groups[beyond[place]].push_back(place);
    }
    return groups;
}

std::vector<Suspect> suspects_of(const checks::ReviewInput& in, InfeedId infeed,
                                 const WayReadings& way) {
    std::vector<Beyond> beyond;
    std::vector<std::vector<Place>> places;
    for (const auto& [readings, group] : groups_of(in, way)) {
        beyond.push_back(readings);
        places.push_back(group);
    }
    std::vector<Suspect> suspects;
    for (const Explanation& one : explain(way.excesses, beyond)) {
        if (suspects.empty() || one.share >= kLeastShare) {
            suspects.push_back({infeed, static_cast<std::uint32_t>(suspects.size() + 1),
                                places[one.place], one,
                                static_cast<std::uint32_t>(beyond[one.place].size()),
                                static_cast<std::uint32_t>(way.columns.size()), ColumnId{}});
        }
    }
    return suspects;
}

/// How far apart the suspects' predictions at a column lie, in the error of a test there: their
/// variance if the bad place is any of them, as likely as their shares say and each place of one
/// suspect as likely as the next.
class NextReading {
  public:
    NextReading(const checks::ReviewInput& in, const protection::Judge& judge,
                const std::vector<Suspect>& suspects)
        : m_in(in), m_judge(judge) {
        const double all =
            std::accumulate(suspects.begin(), suspects.end(), 0.0,
                            [](double sum, const Suspect& s) { return sum + s.explanation.share; });
        for (const Suspect& suspect : suspects) {
            m_largest = std::max(m_largest, suspect.explanation.extra);
            const double chance =
                suspect.explanation.share / all / static_cast<double>(suspect.places.size());
            for (const Place& place : suspect.places) {
                m_hidden.emplace(place, std::pair(chance, suspect.explanation.extra.value()));
            }
        }
    }

    [[nodiscard]] double worth(ColumnId id) const {
        double mean = 0.0;
        double square = 0.0;
        for (const Place& place : places_before(m_in, id)) {
            if (const auto at = m_hidden.find(place); at != m_hidden.end()) {
                const auto [chance, ohms] = at->second;
                mean += chance * ohms;
                square += chance * ohms * ohms;
            }
        }
        // The largest of them: so that the error does not draw the choice to where nothing shows.
        const Ohm read = m_largest + *m_in.figures.columns[id.index()].z20_high;
        const double sigma =
            sigma_of(m_judge.readings().test_error(model::TestMethod::high_current, read).value());
        return sigma > 0.0 ? (square - mean * mean) / (sigma * sigma) : 0.0;
    }

  private:
    const checks::ReviewInput& m_in;
    const protection::Judge& m_judge;
    std::map<Place, std::pair<double, double>> m_hidden; ///< chance and ohms
    Ohm m_largest;                                       ///< that one hides
};

void choose_next(const checks::ReviewInput& in, const protection::Judge& judge,
                 const WayReadings& way, std::span<const ColumnId> of_way,
                 std::vector<Suspect>& suspects) {
    const NextReading next(in, judge, suspects);
    double most = 1e-9;
    ColumnId best;
    for (const ColumnId id : of_way) {
        if (std::ranges::binary_search(way.columns, id) || !is_predicted(in, judge, id)) {
            continue;
        }
        if (const double worth = next.worth(id); worth > most * (1.0 + 1e-9)) {
            most = worth;
            best = id;
        }
    }
    for (Suspect& suspect : suspects) {
        suspect.next_reading = best;
    }
}

std::map<InfeedId, std::vector<ColumnId>> columns_by_way(const figures::Figures& figures) {
    std::map<InfeedId, std::vector<ColumnId>> ways;
    for (std::size_t c = 0; c < figures.columns.size(); ++c) {
        if (figures.columns[c].infeed.is_valid()) {
            ways[figures.columns[c].infeed].emplace_back(c);
        }
    }
    return ways;
}

} // namespace

std::vector<Suspect> find(const checks::ReviewInput& input, const protection::Judge& judge) {
    std::vector<Suspect> all;
    std::map<InfeedId, std::vector<ColumnId>> columns;
    for (const auto& [infeed, way] : readings_by_way(input, judge)) {
        if (!way.is_any_high) {
            continue;
        }
        if (columns.empty()) {
            columns = columns_by_way(input.figures);
        }
        std::vector<Suspect> suspects = suspects_of(input, infeed, way);
        choose_next(input, judge, way, columns[infeed], suspects);
        all.insert(all.end(), suspects.begin(), suspects.end());
    }
    return all;
}

} // namespace loopwalk::suspects
