#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include "read_tables.hpp"
#include "table.hpp"
#include <algorithm>
#include <array>
#include <map>
#include <utility>

namespace loopwalk::catalogue {

namespace {

enum class Edge : std::uint8_t { slow, fast };

/// A point and where it was written.
struct ReadPoint {
    CurvePoint point;
    std::size_t line = 0;
};

/// Position of a device type and of one of its ratings, and the edge.
struct EdgeKey {
    std::size_t type = 0, rating = 0;
    Edge edge = Edge::slow;
    friend auto operator<=>(const EdgeKey&, const EdgeKey&) noexcept = default;
};
using EdgePoints = std::map<EdgeKey, std::vector<ReadPoint>>;

std::optional<EdgeKey> find_rating(const std::vector<FuseType>& fuses, std::string_view type,
                                   Ampere rated) {
    for (std::size_t i = 0; i < fuses.size(); ++i) {
        if (!base::same_word(fuses[i].name, type)) {
            continue;
        }
        if (const FuseRating* rating = fuses[i].rating(rated)) {
            return EdgeKey{i, static_cast<std::size_t>(rating - fuses[i].ratings.data()), {}};
        }
    }
    return std::nullopt;
}

void read_point(const Row& row, StrayCurve stray, const std::vector<FuseType>& fuses,
                EdgePoints& edges) {
    const std::string type = row.needed_text("fuse_type");
    const Ampere rated(row.needed_positive("rating_a"));
    const std::optional<std::size_t> edge = row.word("edge", {"slow", "fast"});
    if (!edge) {
        row.fail("edge", "is blank; write slow or fast");
    }
    const CurvePoint point{Ampere(row.needed_positive("current_a")),
                           Second(row.needed_positive("time_s"))};
    std::optional<EdgeKey> key = find_rating(fuses, type, rated);
    if (!key && stray == StrayCurve::is_unused) {
        return;
    }
    if (!key) {
        row.fail("fuse_type", "the devices' file has no \"" + type + "\" of " +
                                  base::number_text(rated.value()) + " A; add it there");
    }
    key->edge = static_cast<Edge>(*edge);
    edges[*key].push_back({point, row.line()});
}

/// By current, then by falling time, which is the order of use.
void sort_points(std::vector<ReadPoint>& points) {
    std::stable_sort(points.begin(), points.end(), [](const ReadPoint& a, const ReadPoint& b) {
        return std::pair(a.point.current, b.point.time) < std::pair(b.point.current, a.point.time);
    });
}

void check_falls(const std::vector<ReadPoint>& points, const std::string& file) {
    for (std::size_t i = 1; i < points.size(); ++i) {
        const auto& [before, line_before] = points[i - 1];
        const auto& [after, line] = points[i];
        const bool repeated = before.current == after.current && before.time == after.time;
        if (before.time >= after.time && !repeated) {
            continue;
        }
        throw base::ConfigError(
            file + ", line " + std::to_string(std::max(line_before, line)) + ", time_s: " +
            (repeated ? "the same point as on line "
                      : "a curve falls, but this point lies across the one of line ") +
            std::to_string(std::min(line_before, line)));
    }
}

} // namespace

void read_curves(std::string_view text, const std::string& file, StrayCurve stray,
                 std::vector<FuseType>& fuses) {
    const Table table(text, file,
                      {"fuse_type", "rating_a", "edge", "current_a", "time_s", "source"});
    EdgePoints edges;
    for (std::size_t i = 0; i < table.row_count(); ++i) {
        read_point(Row(table, i), stray, fuses, edges);
    }
    for (auto& [key, points] : edges) {
        sort_points(points);
        check_falls(points, file);
        FuseRating& rating = fuses[key.type].ratings[key.rating];
        std::vector<CurvePoint>& edge = key.edge == Edge::slow ? rating.slow : rating.fast;
        edge.clear(); // a job's points override all of the edge: two curves must not be mixed
        for (const ReadPoint& read : points) {
            edge.push_back(read.point);
        }
    }
}

} // namespace loopwalk::catalogue
