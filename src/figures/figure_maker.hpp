// Walks each component once, parents before children, and fills in what its vertices have.
#pragma once

#include "loopwalk/figures/figures.hpp"
#include "loopwalk/figures/loads.hpp"
#include "loopwalk/solution/block_paths.hpp"
#include "loopwalk/solution/phase_volts.hpp"
#include "loopwalk/solution/volt_drop.hpp"

#include "far_end.hpp"

namespace loopwalk::figures {

using impedance::Impedances;
using solution::Along;
using solution::BlockNetwork;
using solution::DropNetwork;
using solution::PathMaker;
using solution::PhaseSolution;
using solution::PieceOhms;
using solution::RadialCircuit;
using solution::RadialSolution;
using trace::Block;
using trace::LocalVertex;

/// A looped block, solved when the walk first leaves its gate.
struct SolvedBlock {
    Block block;
    bool is_solved = false;
    std::vector<Path> paths;       ///< by local vertex
    Path trunk;                    ///< to its gate; of the terminals where it holds the infeeds
    std::uint32_t feed = kOneFeed; ///< index in Figures::feeds
    static constexpr std::uint32_t kOneFeed = std::numeric_limits<std::uint32_t>::max();
};

class FigureMaker {
  public:
    FigureMaker(const Inputs& in, const MainsSources& mains);
    /// Also notes what lies between the source and each column, by column. Before run().
    void keep_paths(std::vector<Impedances>& paths) {
        paths.resize(m_layers.columns.size());
        m_paths_of_columns = &paths;
    }
    Figures run(base::Progress& progress);

  private:
    using Component = trace::Component;

    // figures.cpp: the walk
    void mark_states();
    [[nodiscard]] bool joins_phases(const Component& component) const;
    [[nodiscard]] bool are_phases_unclear(const Component& component) const;
    [[nodiscard]] bool is_feed_unclear(const Path& path, VertexId v) const;
    void sum_up(const Component& component);
    void walk(const Component& component);
    [[nodiscard]] Path path_to(VertexId v, const Component& component);
    [[nodiscard]] const Source* source_at(InfeedId id) const;
    [[nodiscard]] bool is_three_phase(InfeedId id) const;
    [[nodiscard]] ThreePhase phases_at(InfeedId infeed) const {
        return is_three_phase(infeed) ? ThreePhase::yes : ThreePhase::no;
    }

    // figures_fill.cpp: what a vertex or section of a path has
    void fill_section(const Path& path, VertexId v);
    void fill_column(const Path& path, VertexId v);
    void fill_joined_currents(ColumnFigures& column, const Path& path) const;
    void fill_currents(ColumnFigures& column, const Path& path, const Source& source) const;
    void fill_tt_band(ColumnId id, const Path& path, const Source& source);
    static void fill_reading_band(ColumnFigures& column, const Path& path, const Source& source);

    // figures_loops.cpp: looped blocks
    void find_blocks(const Component& component);
    void solve_block(SolvedBlock& solved);
    [[nodiscard]] std::vector<Path> starts_of(SolvedBlock& solved);
    void make_feed(SolvedBlock& solved, const std::vector<PieceOhms>& ohms,
                   const std::vector<Path>& starts);
    void fill_looped_sections(const SolvedBlock& solved, const BlockNetwork& network);
    void fill_behind_feed(SectionFigures& section, base::SectionId id, const Path& trunk,
                          const Along& line, const Along& earth);
    void fill_looped_heat(SectionFigures& section, const Path& a, const Path& b,
                          const Source& source) const;
    void fill_fed_sections(const SolvedBlock& solved);
    [[nodiscard]] FedPoint fed_point(const Path& path) const;

    // figures_volts.cpp: volt drop and design current
    void solve_volt_drop(const Component& component);
    void store_volt_drop(const Component& component, const RadialSolution& low,
                         const RadialSolution& high, double u0);

    // figures_phases.cpp: the same with loops or three phases
    struct LoadedCircuit;
    [[nodiscard]] bool has_same_phases(const Component& component) const;
    void solve_phase_drops(const Component& component);
    void solve_three_phases(const Component& component, const LoadedCircuit& circuit,
                            const DropNetwork& line, const DropNetwork& neutral, double u0);
    void solve_one_phase(const Component& component, const LoadedCircuit& circuit,
                         const DropNetwork& line, const DropNetwork& neutral, double u0);
    [[nodiscard]] bool add_branches(LoadedCircuit& circuit, const Component& component) const;
    [[nodiscard]] bool add_branch(LoadedCircuit& circuit, base::SectionId id, VertexId a,
                                  VertexId b) const;
    void add_link(LoadedCircuit& circuit, VertexId a, VertexId b) const;
    void add_loads(LoadedCircuit& circuit, const Component& component,
                   std::uint32_t only_phase) const;
    void mark_collapse(const Component& component);
    void store_drops(const Component& component, const PhaseSolution& solved, std::uint32_t phase,
                     bool is_low);
    void store_currents(const Component& component, const LoadedCircuit& circuit,
                        const DropNetwork& line, const PhaseSolution& solved, std::uint32_t phase);
    void store_neutral_currents(const LoadedCircuit& circuit, const DropNetwork& line,
                                const DropNetwork& neutral, const PhaseSolution& unbalanced,
                                const PhaseSolution& heaviest);
    void copy_design(const Component& component);
    [[nodiscard]] model::Phase phase_of(InfeedId id) const;

    const model::Layers& m_layers;
    const config::Rules& m_rules;
    const network::Network& m_net;
    const trace::Trace& m_trace;
    PathMaker m_paths;
    LoadBook m_loads;
    trace::BlockFinder m_finder;
    Figures m_figures;
    std::vector<SolvedBlock> m_blocks;     ///< of the component at hand
    std::vector<Path> m_at;                ///< of the component at hand, by position
    std::vector<base::Metre> m_lengths;    ///< of cable, by component
    std::vector<std::uint32_t> m_position; ///< of a vertex in its component
    RadialCircuit m_low, m_high;
    std::vector<Impedances>* m_paths_of_columns = nullptr;
};

} // namespace loopwalk::figures
