#include "ways.hpp"

#include <algorithm>
#include <map>
#include <string>
#include <tuple>

namespace loopwalk::network {
namespace {

/// What makes cables share a way: the row that claims all, the circuit label, or the cable itself.
struct WayKey {
    WayRowId row;
    TextId circuit;
    TextId cable;
    friend auto operator<=>(const WayKey&, const WayKey&) noexcept = default;
};

WayRowId row_for_circuit(const model::Layers& layers, std::span<const WayRowId> rows,
                         TextId circuit) {
    const auto found = std::ranges::find_if(
        rows, [&](WayRowId r) { return layers.ways[r.index()].circuit == circuit; });
    return found == rows.end() ? WayRowId{} : *found;
}

WayKey key_of(const model::Layers& layers, std::span<const WayRowId> rows,
              const model::Cable& cable) {
    if (rows.size() == 1 && !layers.ways[rows[0].index()].circuit.is_valid()) {
        return {rows[0], {}, {}};
    }
    if (!cable.circuit.is_valid()) {
        return {{}, {}, cable.id};
    }
    return {row_for_circuit(layers, rows, cable.circuit), cable.circuit, {}};
}

Way way_of(const model::Layers& layers, SupplyId supply, const WayKey& key) {
    Way way{.supply = supply,
            .row = key.row,
            .name = {},
            .circuit = key.circuit,
            .vertex = {},
            .device = {}};
    if (key.row.is_valid()) {
        way.name = layers.ways[key.row.index()].way;
    } else {
        way.name = key.circuit.is_valid() ? key.circuit : key.cable;
    }
    return way;
}

} // namespace

void group_into_ways(const model::Layers& layers, SupplyId supply, std::span<const WayRowId> rows,
                     std::span<CableAtSupply> cables, std::vector<Way>& ways,
                     std::vector<bool>& row_used) {
    std::map<WayKey, std::vector<CableAtSupply*>> groups;
    for (CableAtSupply& at : cables) {
        groups[key_of(layers, rows, layers.cables[at.cable.index()])].push_back(&at);
    }
    // By name, so the numbering of texts in the pool has no say.
    std::vector<std::tuple<std::string, bool, bool, const WayKey*>> order;
    order.reserve(groups.size());
    for (const auto& [key, members] : groups) {
        order.emplace_back(layers.id_text(way_of(layers, supply, key).name), !key.row.is_valid(),
                           !key.circuit.is_valid(), &key);
    }
    std::ranges::sort(order);
    for (const auto& [name, has_no_row, has_no_circuit, key] : order) {
        for (CableAtSupply* member : groups[*key]) {
            member->way = WayId(ways.size());
        }
        if (key->row.is_valid()) {
            row_used[key->row.index()] = true;
        }
        ways.push_back(way_of(layers, supply, *key));
    }
}

} // namespace loopwalk::network
