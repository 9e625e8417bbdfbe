// Every device of the network with what it may be and where it stands.
#pragma once

#include "loopwalk/figures/inputs.hpp"
#include "loopwalk/protection/device.hpp"
#include "loopwalk/protection/device_places.hpp"

namespace loopwalk::protection {

/// Everything asked of devices, by id or by record. Keeps what it has looked up.
class Devices {
  public:
    explicit Devices(const figures::Inputs& inputs)
        : m_layers(inputs.layers), m_net(inputs.network),
          m_book(inputs.catalogue, inputs.assumptions),
          m_places(device_places(inputs.network, inputs.trace)) {}

    /// What a device may be. The reference stays valid.
    [[nodiscard]] const DeviceChoices& choices(base::DeviceId id);
    /// Devices that a current behind one runs through, that one first; those of unknown rating left
    /// out, unless all are. `supposed`: what `id` is taken to be; null: as recorded.
    [[nodiscard]] std::vector<const DeviceChoices*> series(base::DeviceId id,
                                                           const DeviceChoices* supposed = nullptr);
    /// The same of a recorded fuse; `layer`: whose record it is.
    [[nodiscard]] const DeviceChoices& choices(const model::FuseRecord& fuse,
                                               base::AssetLayer layer) {
        return m_book.of(fuse, layer);
    }
    /// Where a device stands in the network.
    [[nodiscard]] const DevicePlace& place(base::DeviceId id) const { return m_places[id.index()]; }
    /// The main fuse before a direct service; false for no device.
    [[nodiscard]] bool is_distributors(base::DeviceId id) const;

  private:
    const model::Layers& m_layers;
    const network::Network& m_net;
    DeviceBook m_book;
    std::vector<DevicePlace> m_places; ///< by device
};

} // namespace loopwalk::protection
