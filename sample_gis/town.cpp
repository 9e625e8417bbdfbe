#include "town.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace town {
namespace {

template <class Row, class Matches>
Row& find(std::vector<Row>& rows, const Text& what, Matches matches) {
    const auto found = std::ranges::find_if(rows, matches);
    if (found == rows.end()) {
        throw std::out_of_range("the town has no " + what);
    }
    return *found;
}

double drawn_length(const std::vector<Polyline>& lines) {
    double sum = 0.0;
    for (const Polyline& line : lines) {
        sum += loopwalk::base::length(line);
    }
    return sum;
}

} // namespace

Column& Town::column(const Text& id) {
    return find(columns, "column " + id, [&](const Column& c) { return c.column_id == id; });
}

Cable& Town::cable(const Text& id) {
    return find(cables, "cable " + id, [&](const Cable& c) { return c.cable_id == id; });
}

Supply& Town::supply(const Text& id) {
    return find(supplies, "supply " + id, [&](const Supply& s) { return s.supply_id == id; });
}

Way& Town::way(const Text& supply_id, const Text& name) {
    return find(ways, "way " + supply_id + "/" + name,
                [&](const Way& w) { return w.supply_id == supply_id && w.way == name; });
}

Cable& Town::lay(Cable cable) {
    constexpr double kSnaking = 1.02;
    constexpr double kEndsM = 1.0;
    if (!cable.length_m) {
        cable.length_m = std::round((drawn_length(cable.lines) * kSnaking + kEndsM) * 10.0) / 10.0;
    }
    cables.push_back(std::move(cable));
    return cables.back();
}

void Town::expect(Text rule, Text severity, Text asset_layer, Text asset_id, Text why) {
    key.push_back({std::move(rule), std::move(severity), std::move(asset_layer),
                   std::move(asset_id), std::move(why)});
}

double round_cm(double metres) {
    return std::round(metres * 100.0) / 100.0;
}

Text numbered(int value, std::size_t digits) {
    Text text = std::to_string(value);
    return text.size() < digits ? Text(digits - text.size(), '0') + text : text;
}

Point2 shifted(Point2 p, double east, double north) {
    return {round_cm(p.x + east), round_cm(p.y + north)};
}

Polyline bent(Point2 a, Point2 b) {
    constexpr double kOffsetM = 0.7;
    const double length = loopwalk::base::distance(a, b);
    const Point2 middle{(a.x + b.x) / 2.0, (a.y + b.y) / 2.0};
    const Point2 bend =
        shifted(middle, -kOffsetM * (b.y - a.y) / length, kOffsetM * (b.x - a.x) / length);
    return {a, bend, b};
}

} // namespace town
