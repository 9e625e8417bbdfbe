// Figures: what the circuit theory gives at each column and section, before any judgement.
// Radial paths from one root only; everything else has a state that says why there are none.
// docs/method.md sections 2 to 5 and 9.
#pragma once

#include "loopwalk/assess/inputs.hpp"
#include "loopwalk/assess/source.hpp"
#include "loopwalk/base/progress.hpp"

#include <vector>

namespace loopwalk::assess {

using base::CableId;
using base::ColumnId;
using base::DeviceId;
using base::NodeId;
using base::RootId;
using base::VertexId;
using base::WayId;

enum class FigureState : std::uint8_t {
    not_traced, ///< no source
    computed,   ///< fed by one way over one path
    looped,     ///< its path uses a closed loop
    several,    ///< fed by several supplies
    from_main,  ///< fed from a distributor's main, whose impedance is not computed
};

/// Attributes whose absence makes bounds differ. The order is that in which they are named.
enum class Missing : std::uint8_t {
    cable_type,
    length,
    earth_bond,
    termination_side,
    ze,
    earthing,
};

/// State of the earth path back to the supply.
enum class EarthPathState : std::uint8_t { intact, unknown, broken };

/// How many attributes are missing along a path, and the only one if it is just one.
struct MissingOnPath {
    std::uint32_t count = 0;
    std::uint16_t kinds = 0; ///< bit per Missing
    [[nodiscard]] bool has(Missing m) const noexcept {
        return ((kinds >> static_cast<unsigned>(m)) & 1U) != 0;
    }
    void add(Missing m) noexcept {
        ++count;
        kinds = static_cast<std::uint16_t>(kinds | (1U << static_cast<unsigned>(m)));
    }
};

struct ColumnFigures {
    FigureState state = FigureState::not_traced;
    EarthPathState earth = EarthPathState::intact;
    bool through_column = false; ///< another column lies on its path
    MissingOnPath missing;
    RootId root;       ///< invalid if not traced or fed by several
    WayId nearest_way; ///< the way it hangs on: the root's, or that of a section pillar
    DeviceId device;   ///< protects its incoming side; invalid: nothing recorded upstream
    NodeId upstream;   ///< next column, joint or supply towards the source
    VertexId vertex;
    std::uint32_t hops = 0;
    base::Metre run;
    Complex loop_low, loop_high; ///< hot line + earth, without the source
    base::Maybe<base::Ohm> z20_low, z20_high;
    base::Maybe<base::Number> pscc_low_ka, pscc_high_ka; ///< largest current, over the completions
    base::Maybe<base::Number> vdrop_low_pct, vdrop_high_pct;
    base::Maybe<base::Ampere> ampacity; ///< smallest rating of the cables on its path
};

/// On the path to a section: where a conductor survives least heat, at the low and at the high
/// bound of what it survives. Invalid if no cable was passed.
struct WeakestSections {
    base::SectionId low, high;
};

/// Largest currents at the end of a path, bounds over the completions; absent where there is no
/// such loop, or at the low bound where it is not certain that there is one.
struct LargestCurrents {
    base::Maybe<base::Ampere> earth_low, earth_high;     ///< line to earth
    base::Maybe<base::Ampere> neutral_low, neutral_high; ///< line to neutral
    base::Maybe<base::Ampere> any_low, any_high;         ///< these and between lines
};

struct SectionFigures {
    bool is_on_path = false;  ///< on the only path from one root to somewhere
    bool is_reversed = false; ///< downstream runs from `to` to `from`
    bool has_zs = false;      ///< the source is known well enough for a loop impedance
    EarthPathState earth = EarthPathState::intact;
    RootId root;                            ///< invalid if not traced or fed by several
    DeviceId device;                        ///< protects it
    WayId way;                              ///< the nearest upstream
    base::Maybe<base::Ohm> zs_low, zs_high; ///< at its far end
    base::Maybe<base::Ampere> current;      ///< design current, high bound
    base::Maybe<base::Ohm> zn_low, zn_high; ///< line to neutral, hot, at its far end; TN only
    base::Ohm line_low, line_high;          ///< hot line conductor up to its far end
    LargestCurrents largest;                ///< at its far end
    WeakestSections weakest_line, weakest_neutral, weakest_earth; ///< up to and with this one
};

/// Sums over the columns fed by a root.
struct RootFigures {
    std::uint32_t columns = 0;
    base::Bounds<base::Watt> load;
    base::Metre length;
    base::Maybe<base::Ampere> design_low, design_high;
    bool no_solution = false; ///< the loads cannot be carried: no voltage satisfies them
    std::uint32_t loops = 0;
};

struct Figures {
    std::vector<ColumnFigures> columns;
    std::vector<SectionFigures> sections;
    std::vector<RootFigures> roots;
    std::vector<Source> sources; ///< by supply
};

[[nodiscard]] Figures compute_figures(const Inputs& inputs, base::Progress& progress);

} // namespace loopwalk::assess
