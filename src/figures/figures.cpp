#include "loopwalk/base/error.hpp"

#include "figure_maker.hpp"
#include <algorithm>

namespace loopwalk::figures {

using impedance::source_of;
using impedance::with_mains;
using impedance::with_readings;
using network::NodeKind;
using trace::Feeding;

namespace {

/// A supply with what its mains and its readings say of it. One whose voltage is not recorded has
/// that of the substation that its mains come from.
Source source_on(const Inputs& in, const model::Supply& supply,
                 const std::optional<Source>& substation) {
    model::Supply known = supply;
    if (substation.has_value() && !known.voltage.has_value()) {
        known.voltage = substation->u0;
    }
    const Source recorded = source_of(known, in.job.rules, in.assumptions);
    return with_readings(substation.has_value() ? with_mains(recorded, *substation) : recorded,
                         known, in.job.rules.cmax);
}

} // namespace

FigureMaker::FigureMaker(const Inputs& in, const MainsSources& mains)
    : m_layers(in.layers), m_rules(in.job.rules), m_net(in.network), m_trace(in.trace),
      m_paths(in.layers, in.catalogue, in.job.rules, in.assumptions, in.network),
      m_loads(in.layers, in.assumptions), m_finder(in.network, in.trace) {
    m_figures.columns.resize(in.layers.columns.size());
    m_figures.sections.resize(in.network.snapped.sections.size());
    m_figures.infeeds.resize(in.network.infeeds.size());
    for (std::size_t s = 0; s < in.layers.supplies.size(); ++s) {
        const auto& substation = s < mains.of_supply.size() ? mains.of_supply[s] : std::nullopt;
        m_figures.sources.push_back(source_on(in, in.layers.supplies[s], substation));
    }
    m_figures.main_sources = mains.of_infeed;
    m_figures.main_of_supply = mains.place_of_supply;
    m_figures.main_of_infeed = mains.place_of_infeed;
    m_position.resize(in.network.vertex_node.size());
    m_lengths.resize(in.trace.components.size());
    for (std::size_t s = 0; s < in.network.section_from.size(); ++s) {
        if (const VertexId from = in.network.section_from[s]; from.is_valid()) {
            m_lengths[in.trace.component_of[from.index()].index()] +=
                section_length(in.layers, in.network.snapped.sections[s]);
        }
    }
}

Figures FigureMaker::run(base::Progress& progress) {
    progress.stage("assess", m_trace.components.size());
    mark_states();
    for (std::size_t c = 0; c < m_trace.components.size(); ++c) {
        const Component& component = m_trace.components[c];
        if (component.infeed_count > 0) {
            sum_up(component);
        }
        if (component.infeed_count > 0 && !joins_phases(component)) {
            walk(component);
        }
        progress.step(c);
    }
    return std::move(m_figures);
}

const Source* FigureMaker::source_at(InfeedId id) const {
    return m_figures.source_of(m_net, id);
}

bool FigureMaker::is_three_phase(InfeedId id) const {
    return figures::is_three_phase(m_layers, m_net, m_figures.sources, id);
}

/// Ways of two known phases: a short circuit, if the records are true.
bool FigureMaker::joins_phases(const Component& component) const {
    model::Phase known = model::Phase::unknown;
    if (component.infeed_count < 2) {
        return false;
    }
    for (const InfeedId infeed : m_trace.infeeds_of(component)) {
        const model::Phase phase = phase_of(infeed);
        if (phase != model::Phase::unknown && known != model::Phase::unknown && phase != known) {
            return true;
        }
        known = phase != model::Phase::unknown ? phase : known;
    }
    return false;
}

/// Joined ways of which one or more carry three phases, or one that nobody recorded.
bool FigureMaker::are_phases_unclear(const Component& component) const {
    return component.infeed_count > 1 &&
           std::ranges::any_of(m_trace.infeeds_of(component),
                               [this](InfeedId infeed) { return is_three_phase(infeed); });
}

bool FigureMaker::is_feed_unclear(const Path& path, VertexId v) const {
    return path.missing.has(solution::Missing::status) || are_phases_unclear(*m_trace.find(v));
}

void FigureMaker::mark_states() {
    for (std::size_t c = 0; c < m_layers.columns.size(); ++c) {
        const base::ColumnId id(c);
        ColumnFigures& column = m_figures.columns[c];
        column.vertex = trace::column_vertex(m_net, m_trace, id);
        const Component* component = trace::fed_component(m_net, m_trace, id);
        if (component == nullptr || !model::conducts(m_layers.columns[c].status)) {
            continue;
        }
        column.infeed = m_trace.infeeds_of(*component)[0];
        const auto known =
            std::ranges::count_if(m_trace.infeeds_of(*component),
                                  [this](InfeedId infeed) { return source_at(infeed) != nullptr; });
        if (joins_phases(*component)) {
            column.state = FigureState::shorted;
        } else if (known == 0) {
            column.state = FigureState::from_main;
        } else {
            column.state = component->feeding == Feeding::several ? FigureState::several
                                                                  : FigureState::computed;
            column.are_phases_unclear = are_phases_unclear(*component);
            column.has_unknown_source =
                component->infeed_count > 1 &&
                !std::ranges::all_of(m_trace.infeeds_of(*component), [this](InfeedId infeed) {
                    const Source* source = source_at(infeed);
                    return source != nullptr && source->has_ze;
                });
        }
    }
}

/// Columns, load and length of everything an infeed's component holds. Where ways of one supply are
/// joined, each of them feeds all of it.
void FigureMaker::sum_up(const Component& component) {
    InfeedFigures sum;
    sum.loops = component.loops;
    for (const VertexId v : m_trace.vertices(component)) {
        const base::NodeId node = m_net.node_of(v);
        const network::Node& n = m_net.snapped.nodes[node.index()];
        if (n.kind == NodeKind::column && v.index() == node.index()) {
            ++sum.columns;
            sum.load += m_loads.of(base::ColumnId(n.asset)).real;
        }
    }
    sum.length = m_lengths[m_trace.id_of(component).index()];
    for (const InfeedId infeed : m_trace.infeeds_of(component)) {
        m_figures.infeeds[infeed.index()] = sum;
    }
}

void FigureMaker::walk(const Component& component) {
    m_at.clear();
    m_blocks.clear();
    if (component.loops > 0 || component.infeed_count > 1) {
        find_blocks(component);
    }
    for (const VertexId v : m_trace.vertices(component)) {
        const auto position = static_cast<std::uint32_t>(m_at.size());
        m_position[v.index()] = position;
        m_at.push_back(path_to(v, component));
        const VertexId parent = m_trace.parent[v.index()];
        const base::EdgeId edge = m_trace.parent_edge[v.index()];
        if (parent.is_valid() && m_net.is_section(edge) && m_trace.looped[edge.index()] == 0) {
            fill_section(m_at.back(), v);
        }
        fill_column(m_at.back(), v);
    }
    for (SolvedBlock& block : m_blocks) {
        if (!block.is_solved) { // a cable from its gate back to its gate
            solve_block(block);
        }
    }
    const InfeedId infeed = m_trace.infeeds_of(component)[0];
    if (source_at(infeed) == nullptr || component.feeding == Feeding::several) {
        return;
    }
    if (component.loops == 0 && !is_three_phase(infeed)) {
        solve_volt_drop(component);
    } else {
        solve_phase_drops(component);
    }
}

/// From its parent over a bridge; in a looped block from the block's terminals.
Path FigureMaker::path_to(VertexId v, const Component& component) {
    const std::uint32_t number =
        m_blocks.empty() ? trace::BlockFinder::kNone : m_finder.block_of(v);
    if (number != trace::BlockFinder::kNone && m_blocks[number].block.gate != v) {
        SolvedBlock& block = m_blocks[number];
        if (!block.is_solved) {
            solve_block(block);
        }
        Path path = block.paths[m_finder.local(v)];
        if (block.feed != SolvedBlock::kOneFeed) {
            path.fed_at = v;
            path.exit_at = v;
        }
        return path;
    }
    const VertexId parent = m_trace.parent[v.index()];
    if (!parent.is_valid()) {
        const InfeedId infeed = m_trace.infeeds_of(component)[0];
        return m_paths.start(infeed, source_at(infeed));
    }
    return m_paths.step(m_at[m_position[parent.index()]], parent, v,
                        m_trace.parent_edge[v.index()]);
}

const Source* Figures::source_of(const network::Network& network, InfeedId infeed) const {
    if (const auto supply = network.supply_of(infeed)) {
        return &sources[supply->index()];
    }
    return infeed.index() < main_sources.size() && main_sources[infeed.index()].has_value()
               ? &*main_sources[infeed.index()]
               : nullptr;
}

OnMain Figures::main_of(const network::Network& network, InfeedId infeed) const {
    if (const auto supply = network.supply_of(infeed)) {
        return supply->index() < main_of_supply.size() ? main_of_supply[supply->index()] : OnMain{};
    }
    OnMain found =
        infeed.index() < main_of_infeed.size() ? main_of_infeed[infeed.index()] : OnMain{};
    found.main = *network.main_of(infeed);
    return found;
}

model::Phase phase_of(const model::Layers& layers, const network::Network& network,
                      InfeedId infeed) {
    const auto row = network.row_of(infeed);
    return row.has_value() ? layers.ways[row->index()].phase : model::Phase::unknown;
}

bool is_three_phase(const model::Layers& layers, const network::Network& network,
                    const std::vector<Source>& sources, InfeedId infeed) {
    const auto supply = network.supply_of(infeed);
    return supply.has_value() && sources[supply->index()].is_three_phase &&
           phase_of(layers, network, infeed) == model::Phase::unknown;
}

model::Earthing earthing_of(const model::Layers& layers, const network::Network& network,
                            const Figures& figures, ColumnId column) {
    const model::Earthing own = layers.columns[column.index()].earthing;
    const InfeedId infeed = figures.columns[column.index()].infeed;
    if (own != model::Earthing::unknown || !infeed.is_valid()) {
        return own;
    }
    const auto supply = network.supply_of(infeed);
    return supply.has_value() ? layers.supplies[supply->index()].earthing
                              : model::Earthing::unknown;
}

std::vector<DeviceId> devices_of(const Figures& figures, base::SectionId section) {
    const SectionFigures& of_section = figures.sections[section.index()];
    std::vector<DeviceId> devices{of_section.device};
    if (of_section.is_multi_fed) {
        devices = figures.feeds[figures.fed_sections.at(section).feed]->devices();
    }
    std::erase_if(devices, [](DeviceId id) { return !id.is_valid(); });
    return devices;
}

Figures compute_figures(const Inputs& inputs, const MainsSources& mains, base::Progress& progress) {
    return FigureMaker(inputs, mains).run(progress);
}

FiguresWithPaths compute_figures_with_paths(const Inputs& inputs, base::Progress& progress) {
    FiguresWithPaths result;
    FigureMaker maker(inputs, {});
    maker.keep_paths(result.paths);
    result.figures = maker.run(progress);
    return result;
}

} // namespace loopwalk::figures
