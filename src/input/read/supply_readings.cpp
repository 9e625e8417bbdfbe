// Readings at supplies, and of electrodes, beside the records that they are held against.
#include "loopwalk/model/worst_reading.hpp"

#include "read_assets.hpp"
#include <optional>

namespace loopwalk::input {

namespace {

using base::AssetLayer;
using base::Ohm;

template <class Unit>
base::Maybe<Unit> found(const std::unordered_map<base::TextId, Unit>& readings, base::TextId id) {
    const auto entry = readings.find(id);
    return entry != readings.end() ? base::Maybe<Unit>(entry->second) : base::Maybe<Unit>{};
}

/// The reading stands where the record is lower, or blank.
template <class Asset>
void use_electrodes(model::Layers& layers, AssetLayer layer, std::vector<Asset>& assets) {
    const auto readings = model::worst_readings(layers.readings, layer, &model::Reading::ra);
    for (std::uint32_t i = 0; i < assets.size() && !readings.empty(); ++i) {
        const base::Maybe<Ohm> read = found(readings, assets[i].id);
        if (read.has_value() &&
            (!assets[i].electrode.has_value() || *read > *assets[i].electrode)) {
            layers.electrodes_read.push_back({layer, i, *read, assets[i].electrode});
            assets[i].electrode = read;
        }
    }
}

} // namespace

void use_readings(Context& context) {
    model::Layers& layers = context.result.layers;
    use_electrodes(layers, AssetLayer::columns, layers.columns);
    use_electrodes(layers, AssetLayer::supplies, layers.supplies);
    const auto loops =
        model::worst_readings(layers.readings, AssetLayer::supplies, &model::Reading::zs);
    const auto currents =
        model::worst_readings(layers.readings, AssetLayer::supplies, &model::Reading::pscc_ka);
    for (model::Supply& supply : layers.supplies) {
        if (supply.kind == model::SupplyKind::section_pillar) {
            continue; // no source: a reading there is of the way before it
        }
        supply.ze_read = found(loops, supply.id);
        supply.pscc_read_ka = found(currents, supply.id);
    }
}

} // namespace loopwalk::input
