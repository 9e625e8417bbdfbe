#include "bench/county.hpp"

#include <cmath>

namespace loopwalk::bench {

namespace {

using base::Point2;

constexpr double kCellWidthM = 1700.0;
constexpr double kCellHeightM = 1100.0;
constexpr std::uint64_t kCellsInRow = 180; // keeps a million columns within the national grid
constexpr Point2 kOrigin{120000.0, 80000.0};
constexpr double kSpacingM = 30.0;

/// A street: the direction its columns run in and how many there are at least and at most.
struct Street {
    Point2 direction;
    std::uint64_t fewest;
    std::uint64_t most;
};
constexpr Street kStreets[] = {{{1.0, 0.0}, 12, 25}, {{-1.0, 0.0}, 12, 25}, {{0.0, 1.0}, 12, 14}};
constexpr std::size_t kServicesInCell = 2;

Point2 along(Point2 from, Point2 direction, double ahead_m, double aside_m) {
    return {from.x + direction.x * ahead_m - direction.y * aside_m,
            from.y + direction.y * ahead_m + direction.x * aside_m};
}

class Builder {
  public:
    Builder(std::size_t wanted, std::uint64_t ringed_percent)
        : m_wanted(wanted), m_ringed_percent(ringed_percent) {}

    County build() {
        for (std::uint32_t cell = 0; !is_full(); ++cell) {
            add_cell(cell);
        }
        return std::move(m_county);
    }

  private:
    [[nodiscard]] bool is_full() const { return m_county.columns.size() >= m_wanted; }

    void add_cell(std::uint32_t cell) {
        const Point2 centre{kOrigin.x + kCellWidthM * static_cast<double>(cell % kCellsInRow),
                            kOrigin.y + kCellHeightM * static_cast<double>(cell / kCellsInRow)};
        const std::string pillar = "FP" + std::to_string(cell + 1);
        m_county.supplies.push_back({pillar, centre, cell, false});
        std::uint64_t number = 0;
        for (const Street& street : kStreets) {
            ++number;
            if (is_full()) {
                return;
            }
            const std::string circuit = pillar + "/" + std::to_string(number);
            m_county.ways.push_back({pillar, std::to_string(number), circuit});
            add_street(cell, centre, street, circuit, number);
        }
        for (std::size_t i = 0; i < kServicesInCell && !is_full(); ++i) {
            add_service(cell, along(centre, {1.0, 0.0}, 40.0 * static_cast<double>(i), -300.0));
        }
    }

    /// Columns in a line, one cable from each to the next; a side column on a tee half-way.
    void add_street(std::uint32_t cell, Point2 pillar, const Street& street,
                    const std::string& circuit, std::uint64_t number) {
        const std::uint64_t key = std::uint64_t{cell} * 8 + number;
        const std::uint64_t count = street.fewest + pick(key, street.most - street.fewest + 1);
        Point2 previous = pillar;
        for (std::uint64_t i = 1; i < count && !is_full(); ++i) {
            const double aside = static_cast<double>(pick(key * 64 + i, 40)) / 10.0;
            const Point2 place =
                along(pillar, street.direction, kSpacingM * static_cast<double>(i), aside);
            const Point2 bend = along(previous, street.direction, kSpacingM / 2.0, 1.0);
            m_county.columns.push_back({place, circuit, cell, false});
            m_county.cables.push_back({{previous, bend, place}, circuit, cell, false});
            if (i == count / 2 && !is_full()) {
                add_tee(cell, bend, street.direction, circuit);
            }
            previous = place;
        }
        constexpr std::uint64_t kOther = 1U << 31U; // keys that nothing else picks by
        if (pick(key + kOther, 100) < m_ringed_percent) {
            const Point2 bend = along(previous, street.direction, 0.0, -9.0);
            const Point2 back = along(pillar, street.direction, 0.0, -9.0);
            m_county.cables.push_back({{previous, bend, back, pillar}, circuit, cell, false});
        }
    }

    void add_tee(std::uint32_t cell, Point2 joint, Point2 direction, const std::string& circuit) {
        const Point2 place = along(joint, direction, 0.0, 14.0);
        m_county.joints.push_back(joint);
        m_county.columns.push_back({place, circuit, cell, false});
        m_county.cables.push_back({{joint, place}, circuit, cell, false});
    }

    /// A column straight off the street main.
    void add_service(std::uint32_t cell, Point2 place) {
        const std::string id = "SV" + std::to_string(m_county.supplies.size() + 1);
        const Point2 source = along(place, {0.0, 1.0}, 6.0, 0.0);
        m_county.supplies.push_back({id, source, cell, true});
        m_county.columns.push_back({place, "", cell, true});
        m_county.cables.push_back({{source, place}, "", cell, true});
    }

    std::size_t m_wanted;
    std::uint64_t m_ringed_percent;
    County m_county;
};

} // namespace

std::uint64_t pick(std::uint64_t key, std::uint64_t below) {
    std::uint64_t z = (key + 1) * 0x9E3779B97F4A7C15ULL;
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27U)) * 0x94D049BB133111EBULL;
    return (z ^ (z >> 31U)) % below;
}

County make_county(std::size_t column_count, std::uint64_t ringed_percent) {
    return Builder(column_count, ringed_percent).build();
}

} // namespace loopwalk::bench
