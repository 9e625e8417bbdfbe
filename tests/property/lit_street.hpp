// A random street, and what the program makes of its records.
#pragma once

#include "loopwalk/outage/outage.hpp"

#include "lit_world.hpp"
#include <algorithm>

namespace loopwalk::outage {

using test::Fault;
using test::Of;
using test::Part;
using test::Site;
using test::Telling;
using test::World;

/// A world and what the program knows of it.
class Street {
  public:
    explicit Street(World of)
        : world(std::move(of)), m_catalogue(catalogue::parse_catalogue(catalogue::built_in_text())),
          m_assumptions(impedance::resolve_assumptions(m_job, m_catalogue)),
          layers(test::records_of(world)),
          network(network::build_network(layers, network::snap(layers, {}, m_findings, m_progress),
                                         m_findings)),
          trace(trace::trace(layers, network, m_progress)),
          m_figures(figures::compute_figures(
              {layers, m_catalogue, m_job, m_assumptions, network, trace}, {}, m_progress)),
          columns(world.columns()), faults(test::all_faults(world)) {
        std::erase_if(faults, [&](const Fault& fault) { return !is_told(fault); });
        for (const Fault& fault : faults) {
            dark.push_back(test::dark_columns(world, {fault}));
        }
    }

    [[nodiscard]] Diagnosis diagnose(const Seen& seen) const {
        return outage::diagnose({layers, network, trace, m_figures, base::Metre(5.0)}, seen);
    }
    [[nodiscard]] Loss loss_of(const Fault& fault) const;

  private:
    /// One end of a cable at nothing is no place, and nobody records switch cores that he does not
    /// know of.
    [[nodiscard]] bool is_told(const Fault& fault) const {
        const auto ends = std::ranges::count_if(world.cables, [&](const World::Cable& cable) {
            return cable.conducts && cable.open_at != fault.at &&
                   (cable.a == fault.at || cable.b == fault.at);
        });
        const bool is_core = fault.of == Of::switching &&
                             (fault.part == Part::cable || fault.part == Part::terminals ||
                              fault.part == Part::joint || fault.part == Part::meeting);
        const bool tells_cores =
            std::ranges::all_of(world.nodes, [](const World::Node& n) { return n.tells_control; });
        return (fault.part != Part::meeting || ends > 1) && (!is_core || tells_cores);
    }
    /// By the records, a column's fuse has further cables behind it.
    [[nodiscard]] bool feeds_on(int column) const {
        return std::ranges::any_of(world.cables, [column](const World::Cable& cable) {
            return cable.fused_at == column && (cable.tells_side || cable.conducts);
        });
    }
    [[nodiscard]] std::uint32_t cable_index(int cable) const;
    [[nodiscard]] std::uint32_t node_at(int node) const;

  public:
    World world;

  private:
    config::Job m_job;
    catalogue::Catalogue m_catalogue;
    impedance::Assumptions m_assumptions;
    base::FindingList m_findings;
    base::NoProgress m_progress;

  public:
    model::Layers layers;
    network::Network network;
    trace::Trace trace;

  private:
    figures::Figures m_figures;

  public:
    std::vector<int> columns;
    std::vector<Fault> faults;
    std::vector<std::uint64_t> dark; ///< by fault
};

} // namespace loopwalk::outage
