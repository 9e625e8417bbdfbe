#include "loopwalk/mains/mains.hpp"

#include <algorithm>

namespace loopwalk::mains {

using base::InfeedId;
using figures::ColumnFigures;
using figures::FigureState;
using figures::Inputs;
using figures::MainsSources;
using impedance::Assumptions;
using impedance::EarthPathState;
using impedance::Impedances;
using impedance::Source;
using solution::MissingOnPath;

namespace {

using base::SupplyId;

bool is_substation(const model::Supply& supply) {
    return supply.kind == model::SupplyKind::substation && supply.has_place &&
           model::conducts(supply.status);
}

bool is_modelled_substation(const model::Supply& supply) {
    return is_substation(supply) && supply.transformer_kva.has_value() &&
           supply.transformer_z_pct.has_value();
}

/// What hangs on the mains, in the order of the stand-ins built for it.
struct Hanging {
    std::vector<SupplyId> supplies; ///< invalid: a cable end
    std::vector<InfeedId> infeeds;  ///< invalid: a supply
};

/// The mains as layers that snapping and tracing understand: lines as cables, substations as
/// supplies, and whatever hangs on the mains as columns that they pass through.
class MainsLayers {
  public:
    explicit MainsLayers(const Inputs& in) : m_in(in) {
        m_layers.text = in.layers.text;
        for (const model::Main& main : in.layers.mains) {
            add_main(main);
        }
        for (std::size_t s = 0; s < in.layers.supplies.size(); ++s) {
            add_supply(SupplyId(s));
        }
        for (std::size_t r = 0; r < in.network.infeeds.size(); ++r) {
            if (in.network.main_of(InfeedId(r)).has_value()) {
                const base::NodeId node = in.network.node_of(in.network.vertex_of(InfeedId(r)));
                hang(in.network.snapped.nodes[node.index()].place, {}, InfeedId(r));
            }
        }
    }

    [[nodiscard]] const model::Layers& layers() const { return m_layers; }
    [[nodiscard]] const Hanging& hanging() const { return m_hanging; }
    /// Of the records: the stand-in's number.
    [[nodiscard]] SupplyId substation(SupplyId stand_in) const {
        return m_substations[stand_in.index()];
    }

  private:
    void add_main(const model::Main& main) {
        model::Cable cable;
        cable.id = main.id;
        cable.fid = main.fid;
        cable.type = main.type;
        cable.laid = main.laid;
        cable.first_part = static_cast<std::uint32_t>(m_layers.parts.size());
        cable.part_count = static_cast<std::uint32_t>(main.lines.size());
        for (std::size_t l = 0; l < main.lines.size(); ++l) {
            model::Part part;
            part.cable = base::CableId(m_layers.cables.size());
            part.first_vertex = static_cast<std::uint32_t>(m_layers.vertices.size());
            part.vertex_count = static_cast<std::uint32_t>(main.lines[l].size());
            part.drawn = main.drawn[l];
            part.planar = base::Metre(base::length(main.lines[l]));
            m_layers.vertices.insert(m_layers.vertices.end(), main.lines[l].begin(),
                                     main.lines[l].end());
            m_layers.parts.push_back(part);
        }
        m_layers.cables.push_back(cable);
    }

    void add_supply(SupplyId id) {
        const model::Supply& supply = m_in.layers.supplies[id.index()];
        // Also one whose transformer is not recorded: a main that it feeds besides is not modelled.
        if (is_substation(supply)) {
            m_layers.supplies.push_back(supply);
            m_substations.push_back(id);
        } else if (supply.has_place && supply.kind != model::SupplyKind::section_pillar &&
                   model::conducts(supply.status)) {
            hang(supply.place, id, {});
        }
    }

    void hang(base::Point2 place, SupplyId supply, InfeedId infeed) {
        model::Column column;
        column.id = supply.is_valid() ? m_in.layers.supplies[supply.index()].id : base::TextId{};
        column.place = place;
        column.has_place = true;
        m_layers.columns.push_back(column);
        m_hanging.supplies.push_back(supply);
        m_hanging.infeeds.push_back(infeed);
    }

    const Inputs& m_in;
    model::Layers m_layers;
    Hanging m_hanging;
    std::vector<SupplyId> m_substations;
};

/// A missing type of a main may be any main, not any lighting cable.
Assumptions for_mains(const Assumptions& lighting) {
    Assumptions a = lighting;
    a.missing_cable = lighting.missing_main;
    a.missing_cable_unbonded = lighting.missing_main;
    a.cable_length.reset();
    return a;
}

/// Substations that feed a main together with another one: all that hangs on either is fed by both,
/// on whatever side of it.
std::vector<bool> joined_supplies(const MainsLayers& mains, const network::Network& network,
                                  const trace::Trace& traced) {
    std::vector<bool> joined(mains.layers().supplies.size());
    for (const trace::Component& component : traced.components) {
        const auto infeeds = traced.infeeds_of(component);
        const auto is_of_another = [&](InfeedId id) {
            return network.supply_of(id) != network.supply_of(infeeds[0]);
        };
        if (std::ranges::any_of(infeeds, is_of_another)) {
            for (const InfeedId id : infeeds) {
                joined[network.supply_of(id)->index()] = true;
            }
        }
    }
    return joined;
}

/// The substation seen over its mains: in front of the lighting's own path lies theirs.
Source behind(const Source& substation, const Impedances& mains, const MissingOnPath& missing) {
    Source source = substation;
    source.mains = mains;
    source.mains_incomplete = missing.count > 0;
    source.is_modelled = true;
    return source;
}

} // namespace

MainsSources model_mains(const Inputs& in) {
    MainsSources result;
    if (in.layers.mains.empty() ||
        std::ranges::none_of(in.layers.supplies, is_modelled_substation)) {
        return result;
    }
    const MainsLayers mains(in);
    const model::Layers& layers = mains.layers();
    const Assumptions assumptions = for_mains(in.assumptions);
    base::FindingList unused; // a main's ends are the distributor's records: no advice on them
    base::NoProgress quiet;
    const network::Network network = network::build_network(
        layers, network::snap(layers, {in.job.network.snap, in.job.network.reach}, unused, quiet),
        unused);
    const trace::Trace traced = trace::trace(layers, network, quiet);
    const Inputs of_mains{layers, in.catalogue, in.job, assumptions, network, traced};
    const std::vector<bool> joined = joined_supplies(mains, network, traced);
    const auto [figures, paths] = figures::compute_figures_with_paths(of_mains, quiet);

    result.of_supply.resize(in.layers.supplies.size());
    result.of_infeed.resize(in.network.infeeds.size());
    result.place_of_supply.resize(in.layers.supplies.size());
    result.place_of_infeed.resize(in.network.infeeds.size());
    for (std::size_t c = 0; c < layers.columns.size(); ++c) {
        const ColumnFigures& column = figures.columns[c];
        if (column.state != FigureState::computed || column.earth != EarthPathState::intact) {
            continue;
        }
        const SupplyId stand_in = *network.supply_of(column.infeed);
        const SupplyId substation = mains.substation(stand_in);
        if (joined[stand_in.index()] ||
            !is_modelled_substation(in.layers.supplies[substation.index()])) {
            continue;
        }
        const Source source =
            behind(*figures.source_of(network, column.infeed), paths[c], column.missing);
        figures::OnMain place;
        place.substation = substation;
        if (const base::EdgeId edge = traced.parent_edge[column.vertex.index()];
            traced.parent[column.vertex.index()].is_valid() && network.is_section(edge)) {
            // the lines stand as cables in the order of the mains
            place.main = base::MainId(network.snapped.sections[edge.index()].cable.index());
        }
        const Hanging& hanging = mains.hanging();
        if (hanging.supplies[c].is_valid()) {
            result.of_supply[hanging.supplies[c].index()] = source;
            result.place_of_supply[hanging.supplies[c].index()] = place;
        } else {
            result.of_infeed[hanging.infeeds[c].index()] = source;
            result.place_of_infeed[hanging.infeeds[c].index()] = place;
        }
    }
    return result;
}

} // namespace loopwalk::mains
