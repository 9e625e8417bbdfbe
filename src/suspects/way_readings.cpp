#include "way_readings.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace loopwalk::suspects {
namespace {

/// Of copper and aluminium, of the ohms at 20 C for each kelvin (IEC 60287-1-1).
constexpr double kPerKelvin = 0.004;

struct Band {
    double low = 0.0, high = 0.0;
};

/// What a reading may be by the records, ohm: the source does not warm with the conductors, so the
/// growth lies between none and that of the whole loop; beyond the cut-out the tail may be part.
Band band_of(const figures::ColumnFigures& column, const model::Reading& row, Ohm tail) {
    const double kelvin = row.conductor.has_value() ? (*row.conductor).value() - 20.0 : 0.0;
    const double growth = 1.0 + kPerKelvin * kelvin;
    const double added = row.taken_at == model::TakenAt::cut_out ? 0.0 : tail.value();
    return {(*column.z20_low).value() * std::min(1.0, growth),
            (*column.z20_high).value() * std::max(1.0, growth) + added};
}

void add(WayReadings& way, ColumnId id, double read, const Band& band, double error) {
    const double middle = (band.low + band.high) / 2.0;
    const double sigma = std::hypot(sigma_of(error), sigma_of((band.high - band.low) / 2.0));
    if (!(sigma > 0.0)) { // settings of no error at all
        return;
    }
    way.excesses.push_back({Ohm(read - middle), Ohm(sigma)});
    way.columns.push_back(id);
    way.is_any_high = way.is_any_high || read - error > band.high;
}

} // namespace

double sigma_of(double half_width) {
    return half_width / std::numbers::sqrt3;
}

bool is_predicted(const checks::ReviewInput& in, const protection::Judge& judge, ColumnId id) {
    const figures::ColumnFigures& column = in.figures.columns[id.index()];
    return column.state == figures::FigureState::computed && !column.is_multi_fed &&
           column.infeed.is_valid() && column.vertex.is_valid() &&
           in.trace.clean[column.vertex.index()] != 0 && column.z20_low.has_value() &&
           column.z20_high.has_value() && !judge.facts().is_tt(id);
}

std::map<InfeedId, WayReadings> readings_by_way(const checks::ReviewInput& in,
                                                const protection::Judge& judge) {
    std::vector<ColumnId> columns = judge.readings().columns();
    std::ranges::sort(columns);
    columns.erase(std::unique(columns.begin(), columns.end()), columns.end());
    std::map<InfeedId, WayReadings> ways;
    for (const ColumnId id : columns) {
        if (!is_predicted(in, judge, id)) {
            continue;
        }
        const figures::ColumnFigures& column = in.figures.columns[id.index()];
        const Ohm tail = judge.test_path(id).tail;
        for (const std::uint32_t r : judge.readings().of(id)) {
            const model::Reading& row = in.layers.readings[r];
            add(ways[column.infeed], id, (*row.zs).value(), band_of(column, row, tail),
                judge.readings().test_error(row.method, *row.zs).value());
        }
    }
    return ways;
}

std::vector<Place> places_before(const checks::ReviewInput& in, ColumnId id) {
    std::vector<Place> places{{{}, id}};
    const trace::Trace& trace = in.trace;
    for (base::VertexId v = in.figures.columns[id.index()].vertex;
         trace.parent[v.index()].is_valid(); v = trace.parent[v.index()]) {
        places.push_back({trace.parent_edge[v.index()], {}});
    }
    return places;
}

} // namespace loopwalk::suspects
