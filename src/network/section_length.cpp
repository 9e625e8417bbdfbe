#include "loopwalk/network/network.hpp"

namespace loopwalk::network {

base::Metre section_length(const model::Layers& layers, const Section& section) {
    const model::Cable& cable = layers.cables[section.cable.index()];
    if (!cable.laid.has_value()) {
        return section.drawn;
    }
    double drawn = 0.0;
    for (const model::Part& part : layers.parts_of(cable)) {
        drawn += part.drawn.value();
    }
    return *cable.laid * (section.drawn.value() / drawn);
}

} // namespace loopwalk::network
