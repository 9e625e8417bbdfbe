// Figures: what the circuit theory gives at each column and section, before any judgement.
// Rings, meshes and joined supplies are solved exactly. docs/method.md sections 2 to 5 and 9.
#pragma once

#include "loopwalk/base/progress.hpp"
#include "loopwalk/figures/inputs.hpp"
#include "loopwalk/impedance/source.hpp"
#include "loopwalk/solution/multi_feed.hpp"
#include "loopwalk/solution/path.hpp"

#include <memory>
#include <optional>
#include <unordered_map>
#include <vector>

namespace loopwalk::figures {

using base::CableId;
using base::ColumnId;
using base::DeviceId;
using base::InfeedId;
using base::NodeId;
using base::VertexId;
using base::WayId;
using impedance::Complex;
using impedance::EarthPathState;
using impedance::Source;
using impedance::source_of;
using solution::MissingOnPath;
using solution::MultiFeed;
using solution::WeakestSections;

/// What is known of a column's feed.
enum class FigureState : std::uint8_t {
    not_traced, ///< no source
    computed,   ///< fed by one supply, over one path or over loops
    several,    ///< fed by several supplies: figures are those of the weakest alone
    shorted,    ///< ways of different phases are joined, as recorded: no figures
    from_main,  ///< fed from a distributor's main, whose impedance is not computed
};

/// Whether impedances and currents are computed.
[[nodiscard]] constexpr bool has_figures(FigureState state) noexcept {
    return state == FigureState::computed || state == FigureState::several;
}

/// A column's feed, impedances and currents at its cut-out. Absent values are not computed.
struct ColumnFigures {
    FigureState state = FigureState::not_traced;   ///< what is known of its feed
    EarthPathState earth = EarthPathState::intact; ///< back to the source
    bool through_column = false;                   ///< another column lies on its path
    bool is_multi_fed = false;                     ///< several devices feed it: see Figures::fed
    bool are_phases_unclear = false; ///< joined ways that may be of different phases feed it
    bool has_unknown_source = false; ///< one of the joined sources that feed it has no Ze on record
    MissingOnPath missing;           ///< attributes that its path lacks
    InfeedId infeed;                 ///< invalid if not traced; of several supplies the weakest's
    WayId nearest_way;      ///< the way it hangs on: the infeed's, or that of a section pillar
    DeviceId device;        ///< protects its incoming side; invalid: nothing recorded upstream
    NodeId upstream;        ///< next column, joint or supply towards the source; invalid in a loop
    VertexId vertex;        ///< of the graph; invalid where no cable ends at the column
    std::uint32_t hops = 0; ///< columns on the path, itself included
    base::Metre run;        ///< metres of cable from the source, laid where recorded
    Complex loop_low, loop_high;       ///< hot line + earth, without the source
    base::Bounds<base::Ohm> earth_hot; ///< resistance of the hot earth path, without the source
    /// edges of the reading band at 20 C; absent where there is none
    base::Maybe<base::Ohm> z20_low, z20_high;
    base::Maybe<base::Number> pscc_low_ka, pscc_high_ka; ///< largest current, over the completions
    /// of U0 at the cut-out, signed; see docs/method.md section 9
    base::Maybe<base::Number> vdrop_low_pct, vdrop_high_pct;
    base::Maybe<base::Ampere> ampacity; ///< smallest rating of the cables on its path
    base::SectionId weakest_earth;      ///< of a column that several devices feed: against heat
};

/// Largest currents at the end of a path, bounds over the completions; absent where there is no
/// such loop, or at the low bound where it is not certain that there is one.
struct LargestCurrents {
    base::Maybe<base::Ampere> earth_low, earth_high;     ///< line to earth
    base::Maybe<base::Ampere> neutral_low, neutral_high; ///< line to neutral
    base::Maybe<base::Ampere> any_low, any_high;         ///< these and between lines
};

/// A section's feed, impedances and currents at its downstream end.
struct SectionFigures {
    bool is_on_path = false;      ///< fed
    bool is_multi_fed = false;    ///< several devices feed it: see Figures::fed_sections
    bool is_reversed = false;     ///< downstream runs from `to` to `from`
    bool has_zs = false;          ///< the source is known well enough for a loop impedance
    bool is_feed_unclear = false; ///< it, or what feeds it, may be out of service or on two phases
    EarthPathState earth = EarthPathState::intact; ///< from the source to its downstream end
    InfeedId infeed;                               ///< invalid if not traced
    DeviceId device;                               ///< protects it
    WayId way;                                     ///< the nearest upstream
    base::Maybe<base::Ohm> zs_low, zs_high; ///< at its far end; in a loop at its highest place
    base::Maybe<base::Ampere> current;      ///< design current, high bound
    base::Maybe<base::Ohm> zn_low, zn_high; ///< line to neutral, hot, at its far end; TN only
    base::Ohm line_low, line_high;          ///< hot line conductor up to its far end
    LargestCurrents largest;                ///< at its far end
    WeakestSections weakest_line, weakest_neutral, weakest_earth; ///< up to and with this one
};

/// Sums over the columns fed by an infeed.
struct InfeedFigures {
    std::uint32_t columns = 0;     ///< in service
    base::Bounds<base::Watt> load; ///< real power
    base::Metre length;            ///< of all cable that it feeds, as drawn or laid
    /// design current; absent where it is not solved
    base::Maybe<base::Ampere> design_low, design_high;
    bool no_solution = false; ///< the loads cannot be carried: no voltage satisfies them
    std::uint32_t loops = 0;  ///< independent loops behind it; 0 if radial
};

/// In the neutral of a section that carries three phases, third harmonics included.
struct NeutralCurrent {
    base::Ampere high;    ///< largest over the completions
    bool is_exact = true; ///< loads, phases and impedances have one value
};

/// A column or section in, or behind, a looped block that several devices feed.
struct FedPoint {
    std::uint32_t feed = 0; ///< index in Figures::feeds
    MultiFeed::Point point; ///< where in that block, or behind it
};

/// The main that something hangs on, and the substation that feeds it; invalid where not known.
struct OnMain {
    base::MainId main;         ///< nearest main; of equals the one with the smaller id
    base::SupplyId substation; ///< whose transformer is on record
};

/// Sources that follow from a substation and the mains in front of it.
struct MainsSources {
    std::vector<std::optional<Source>> of_supply; ///< by supply; nothing: not on a modelled main
    std::vector<std::optional<Source>> of_infeed; ///< by infeed; only of ends on a main
    std::vector<OnMain> place_of_supply;          ///< by supply, likewise
    std::vector<OnMain> place_of_infeed;          ///< by infeed, likewise
};

/// Everything that is calculated before anything is judged.
struct Figures {
    std::vector<ColumnFigures> columns;   ///< by column of the records
    std::vector<SectionFigures> sections; ///< by section of the network
    std::vector<InfeedFigures> infeeds;   ///< by infeed of the network
    std::unordered_map<base::SectionId, NeutralCurrent> neutral_currents; ///< of three-phase ways
    std::vector<Source> sources;                                          ///< by supply
    std::vector<std::optional<Source>> main_sources; ///< by infeed; ends on a modelled main only
    std::vector<OnMain> main_of_supply;              ///< by supply; empty if no main is modelled
    std::vector<OnMain> main_of_infeed;              ///< by infeed, likewise
    /// The main that an infeed hangs on, directly or by its supply's service.
    [[nodiscard]] OnMain main_of(const network::Network& network, InfeedId infeed) const;
    /// Source of an infeed; null at an end on a main that no substation is recorded for.
    [[nodiscard]] const Source* source_of(const network::Network& network, InfeedId infeed) const;
    std::vector<std::unique_ptr<MultiFeed>> feeds; ///< blocks that several devices feed
    std::unordered_map<ColumnId, FedPoint> fed;    ///< columns in or behind one of them
    /// sections in or behind one of them
    std::unordered_map<base::SectionId, FedPoint> fed_sections;
    std::vector<std::vector<base::SectionId>> blocks; ///< sections of each looped block
    /// index in `blocks`, of looped sections only
    std::unordered_map<base::SectionId, std::uint32_t> block_of;
    std::vector<VertexId> block_gate; ///< by block; invalid where it holds the infeeds
    /// Hot loop (line + earth), high bound: of each looped section, and up to each vertex of a
    /// block.
    std::unordered_map<base::SectionId, Complex> looped_ohms;
    std::unordered_map<VertexId, Complex> block_loop; ///< from the block's gate, ohm
};

/// Phase recorded for the way of an infeed; unknown on a main.
[[nodiscard]] model::Phase phase_of(const model::Layers& layers, const network::Network& network,
                                    InfeedId infeed);

/// Whether an infeed brings three phases: its supply has them and its way is not recorded as one of
/// them. A service off a main counts as one phase. `sources`: by supply.
[[nodiscard]] bool is_three_phase(const model::Layers& layers, const network::Network& network,
                                  const std::vector<Source>& sources, InfeedId infeed);

/// A column's own earthing where recorded, else that of the supply it is traced to; unknown on a
/// main and without a trace.
[[nodiscard]] model::Earthing earthing_of(const model::Layers& layers,
                                          const network::Network& network, const Figures& figures,
                                          ColumnId column);

/// Devices that protect a section: one, or those that feed its loop; none without a device.
[[nodiscard]] std::vector<DeviceId> devices_of(const Figures& figures, base::SectionId section);

/// `mains`: what lies in front of supplies and cable ends; empty where no main is modelled.
[[nodiscard]] Figures compute_figures(const Inputs& inputs, const MainsSources& mains,
                                      base::Progress& progress);

/// Figures, and what lies between the source and each column.
struct FiguresWithPaths {
    Figures figures;                          ///< as compute_figures() gives them without mains
    std::vector<impedance::Impedances> paths; ///< by column
};
/// For networks that stand in for mains: paths are kept in memory for all columns.
[[nodiscard]] FiguresWithPaths compute_figures_with_paths(const Inputs& inputs,
                                                          base::Progress& progress);

} // namespace loopwalk::figures
