#include "loopwalk/figures/tt_earth.hpp"

#include <algorithm>

namespace loopwalk::figures {

using impedance::EarthPathState;

namespace {

/// Two resistances side by side; one of nothing shorts the other.
Ohm side_by_side(Ohm a, Ohm b) {
    const double sum = a.value() + b.value();
    return Ohm(sum > 0.0 ? a.value() * b.value() / sum : 0.0);
}

} // namespace

TtEarth tt_earth(const TtEarthRecord& record) {
    TtEarth earth{record.own, record.own};
    if (record.path == EarthPathState::broken) {
        return earth;
    }
    const Ohm from_pillar = record.pillar.value_or(Ohm(0.0)) + record.path_ohms.low;
    if (record.pillar.has_value() || record.own.has_value()) {
        earth.low = record.own.has_value() ? side_by_side(from_pillar, *record.own) : from_pillar;
    }
    if (record.pillar.has_value() && record.path == EarthPathState::intact) {
        const Ohm high = *record.pillar + record.path_ohms.high;
        earth.high = earth.high.has_value() ? std::min(*earth.high, high) : high;
    }
    return earth;
}

bool is_tt(const model::Column& column, const Source* source) {
    return column.earthing == model::Earthing::tt || (source != nullptr && source->is_tt);
}

TtEarthRecord tt_record(const model::Layers& layers, const network::Network& network,
                        const Figures& figures, ColumnId column) {
    const ColumnFigures& of = figures.columns[column.index()];
    TtEarthRecord record;
    record.own = layers.columns[column.index()].electrode;
    record.path_ohms = of.earth_hot;
    const Source* source = figures.source_of(network, of.infeed);
    const auto supply = network.supply_of(of.infeed);
    if (source == nullptr || !source->is_tt || !supply.has_value()) {
        return record;
    }
    record.pillar = layers.supplies[supply->index()].electrode;
    // Through several ways the earth path is no sum along one of them.
    record.path =
        of.is_multi_fed && of.earth == EarthPathState::intact ? EarthPathState::unknown : of.earth;
    if (of.is_multi_fed) {
        record.path_ohms = {Ohm(0.0), Ohm(0.0)};
    }
    return record;
}

Bounds<Ohm> source_electrode(const Source& source, const config::Rules& rules) {
    return source.is_tt ? source.ze : Bounds<Ohm>{Ohm(0.0), rules.ze_high_tt};
}

} // namespace loopwalk::figures
