#include "loopwalk/protection/device_places.hpp"

namespace loopwalk::protection {
namespace {

using base::DeviceId;
using base::VertexId;

class PlaceFinder {
  public:
    PlaceFinder(const network::Network& network, const trace::Trace& trace)
        : m_net(network), m_trace(trace) {
        m_places.resize(network.devices.size());
        m_behind.resize(network.vertex_node.size());
    }

    std::vector<DevicePlace> run() {
        for (const trace::Component& component : m_trace.components) {
            if (component.feeding == trace::Feeding::one) {
                walk(component);
            }
        }
        return std::move(m_places);
    }

  private:
    void walk(const trace::Component& component);
    [[nodiscard]] DeviceId at_infeed(VertexId v, base::InfeedId infeed);
    [[nodiscard]] DeviceId along_edge(VertexId v, base::InfeedId infeed);
    /// What protects what lies behind a device that is met at `v`.
    [[nodiscard]] DeviceId passed(DeviceId own, DeviceId before, VertexId v, base::InfeedId infeed);
    [[nodiscard]] DeviceId device_of_link(const network::Link& link, VertexId from) const;
    [[nodiscard]] DeviceId device_of_joint(VertexId v) const;

    const network::Network& m_net;
    const trace::Trace& m_trace;
    std::vector<DevicePlace> m_places;
    std::vector<DeviceId> m_behind; ///< by vertex: protects what is fed from it
};

DeviceId PlaceFinder::device_of_joint(VertexId v) const {
    const network::Node& node = m_net.snapped.nodes[m_net.node_of(v).index()];
    return node.kind == network::NodeKind::joint ? m_net.joint_device[node.asset] : DeviceId{};
}

/// As the path passes links (path.cpp): backwards through a section pillar's way only a row's fuse.
DeviceId PlaceFinder::device_of_link(const network::Link& link, VertexId from) const {
    const bool backwards = link.kind == network::LinkKind::busbar && from != link.a;
    return backwards && !m_net.ways[link.way.index()].row.is_valid() ? DeviceId{} : link.device;
}

DeviceId PlaceFinder::at_infeed(VertexId v, base::InfeedId infeed) {
    const DeviceId device = m_net.device_of(infeed);
    if (device.is_valid()) {
        m_places[device.index()] = {true, {}, v, infeed};
    }
    return device;
}

/// A device that the path has passed already stays where it was met first: a joint drawn with an
/// open end, or a pillar with two cables on one way, can be passed twice.
DeviceId PlaceFinder::passed(DeviceId own, DeviceId before, VertexId v, base::InfeedId infeed) {
    for (DeviceId met = before; met.is_valid(); met = m_places[met.index()].upstream) {
        if (met == own) {
            return before;
        }
    }
    m_places[own.index()] = {true, before, v, infeed};
    return own;
}

DeviceId PlaceFinder::along_edge(VertexId v, base::InfeedId infeed) {
    const VertexId parent = m_trace.parent[v.index()];
    const base::EdgeId edge = m_trace.parent_edge[v.index()];
    const DeviceId before = m_behind[parent.index()];
    if (m_net.is_section(edge)) {
        return before;
    }
    const DeviceId own = device_of_link(m_net.link(edge), parent);
    return own.is_valid() ? passed(own, before, parent, infeed) : before;
}

void PlaceFinder::walk(const trace::Component& component) {
    const base::InfeedId infeed = m_trace.infeeds_of(component)[0];
    for (const VertexId v : m_trace.vertices(component)) {
        if (m_trace.clean[v.index()] == 0) {
            continue;
        }
        const bool is_infeed = !m_trace.parent[v.index()].is_valid();
        DeviceId behind = is_infeed ? at_infeed(v, infeed) : along_edge(v, infeed);
        if (const DeviceId joint = device_of_joint(v); joint.is_valid()) {
            behind = passed(joint, behind, v, infeed);
        }
        m_behind[v.index()] = behind;
    }
}

} // namespace

std::vector<DevicePlace> device_places(const network::Network& network, const trace::Trace& trace) {
    return PlaceFinder(network, trace).run();
}

} // namespace loopwalk::protection
