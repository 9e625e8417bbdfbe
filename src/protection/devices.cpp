#include "loopwalk/protection/devices.hpp"

#include "loopwalk/base/error.hpp"

namespace loopwalk::protection {

using base::AssetLayer;
using base::DeviceId;
using network::DeviceKind;

const DeviceChoices& Devices::choices(DeviceId id) {
    const network::Device& device = m_net.devices[id.index()];
    switch (device.kind) {
    case DeviceKind::way: {
        const network::Way& way = m_net.ways[device.owner];
        const bool of_row =
            way.row.is_valid() && device.fuse == m_layers.ways[way.row.index()].fuse;
        return m_book.of(device.fuse, of_row ? AssetLayer::ways : AssetLayer::supplies);
    }
    case DeviceKind::joint:
        return m_book.of(device.fuse, AssetLayer::joints);
    case DeviceKind::cut_out:
        return m_book.of(device.fuse, AssetLayer::columns);
    case DeviceKind::distributor:
        return m_book.of(device.fuse, AssetLayer::supplies);
    }
    throw base::InternalError("device kind out of range");
}

std::vector<const DeviceChoices*> Devices::series(DeviceId id, const DeviceChoices* supposed) {
    std::vector<const DeviceChoices*> all;
    for (DeviceId device = id; device.is_valid();) {
        const DeviceChoices& of = device == id && supposed != nullptr ? *supposed : choices(device);
        if (!of.any_of.empty()) {
            all.push_back(&of);
        }
        const DevicePlace& place = m_places[device.index()];
        device = place.is_reached ? place.upstream : DeviceId{};
    }
    if (all.empty()) {
        all.push_back(supposed != nullptr ? supposed : &choices(id));
    }
    return all;
}

bool Devices::is_distributors(DeviceId id) const {
    return id.is_valid() && m_net.devices[id.index()].kind == DeviceKind::distributor;
}

} // namespace loopwalk::protection
