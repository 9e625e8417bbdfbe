#include "near_mains.hpp"

#include <limits>
#include <optional>

namespace loopwalk::outage {
namespace {

using base::MainId;

/// No cable at all, and nothing recorded that speaks against a service off a main.
bool is_taken_from_main(const Inputs& in, ColumnId id) {
    const model::Column& column = in.layers.columns[id.index()];
    const base::VertexId v = trace::column_vertex(in.network, in.trace, id);
    if (!v.is_valid() || in.trace.find(v) != nullptr || !model::conducts(column.status)) {
        return false;
    }
    const bool is_stated =
        column.feed == model::StatedFeed::main || column.owner == model::Owner::distributor;
    return is_stated ||
           (column.feed == model::StatedFeed::none && column.owner != model::Owner::council);
}

double distance_to(const model::Main& main, base::Point2 place) {
    double least = std::numeric_limits<double>::infinity();
    for (const base::Polyline& line : main.lines) {
        least = line.empty() ? least : std::min(least, base::nearest_on_line(place, line).distance);
    }
    return least;
}

/// The nearest main within reach among some; of equals the one with the smaller id.
template <class Mains>
std::optional<MainId> nearest(const Inputs& in, ColumnId id, const Mains& mains) {
    std::optional<MainId> found;
    double least = in.reach.value();
    for (const MainId main : mains) {
        const double d =
            distance_to(in.layers.mains[main.index()], in.layers.columns[id.index()].place);
        if (d < least || (d == least && !found.has_value())) {
            least = d;
            found = main;
        }
    }
    return found;
}

std::vector<MainId> all_mains(const Inputs& in) {
    std::vector<MainId> all;
    for (std::size_t m = 0; m < in.layers.mains.size(); ++m) {
        all.emplace_back(m);
    }
    return all;
}

} // namespace

std::set<MainId> near_mains_of_named(const Inputs& in, const Seen& seen) {
    const std::vector<MainId> all = all_mains(in);
    std::set<MainId> named;
    for (const auto* columns : {&seen.out, &seen.lit}) {
        for (const ColumnId id : *columns) {
            const auto main = is_taken_from_main(in, id) ? nearest(in, id, all) : std::nullopt;
            if (main.has_value()) {
                named.insert(*main);
            }
        }
    }
    return named;
}

std::map<ColumnId, MainId> columns_by_near_main(const Inputs& in, const std::set<MainId>& mains) {
    const std::vector<MainId> all = all_mains(in);
    std::map<ColumnId, MainId> found;
    for (std::size_t c = 0; !mains.empty() && c < in.layers.columns.size(); ++c) {
        const ColumnId id(c);
        if (!is_taken_from_main(in, id) || !nearest(in, id, mains).has_value()) {
            continue; // far from these: no need to look at all the others
        }
        if (const auto main = nearest(in, id, all); mains.contains(*main)) {
            found.emplace(id, *main);
        }
    }
    return found;
}

} // namespace loopwalk::outage
