// The three networks of a looped block, solved: driving-point impedances of every vertex as bounds.
//
// Line, neutral and earth path are networks of their own that meet only at the terminals and at the
// fault (docs/method.md section 5). Where the records are complete both bounds are exact solutions,
// each at its own conditions. Where they are not, the bounds are outer ones that hold for every
// completion (docs/method.md, "Bounds in a mesh").
#pragma once

#include "loopwalk/solution/nodal.hpp"
#include "loopwalk/solution/path.hpp"
#include "loopwalk/trace/block.hpp"

#include <optional>

namespace loopwalk::solution {

using impedance::Complex;
using trace::Block;
using trace::LocalVertex;

/// Which of the three networks of a block.
enum class Conductor : std::uint8_t { line, earth, neutral };
/// Temperature of the conductors: for the smallest current, or for the largest.
enum class Condition : std::uint8_t { hot, cold };

/// How the line network is fed. The earth and neutral networks follow: held at each terminal that
/// feeds.
struct Switching {
    std::vector<std::uint8_t> open; ///< by link of the block; empty: all closed
    std::vector<std::uint8_t> off;  ///< by terminal: does not feed; empty: all feed
    /// By terminal: a source impedance inside the line network; empty: terminals are held.
    std::vector<Complex> source;
};

/// Driving-point impedances of one conductor from the terminals, by local vertex, ohm.
struct Driving {
    std::vector<Complex> low, high;     ///< at the two bounds, ohm
    std::vector<std::uint8_t> possible; ///< some completion of the record connects it
    std::vector<std::uint8_t> sure;     ///< every completion does; `high` holds only then
};

/// Impedance along one section from its `from` (0) to its `to` (1), high bound.
struct Along {
    /// at both ends, transfer between them, and of the section itself; ohm
    Complex at_a, at_b, between, whole;
    double re_share = 1.0, im_share = 1.0; ///< of the magnitude where a bound was solved for
    bool is_bound = false; ///< magnitude bounds were solved for, not the impedance itself
    /// At a share from `from` (0) to `to` (1), ohm.
    [[nodiscard]] Complex at(double share) const;
};

/// The three networks of a looped block, solved for one state of its devices at a time.
class BlockNetwork {
  public:
    /// `ohms`: by section of the block, which outlives this object.
    BlockNetwork(const Block& block, std::vector<PieceOhms> ohms);

    /// Of the network as that conductor sees it, at that temperature.
    [[nodiscard]] Driving drive(Conductor conductor, Condition condition,
                                const Switching& switching) const;
    /// High bound along every section, hot; sections that do not certainly conduct are left zero.
    [[nodiscard]] std::vector<Along> along(Conductor conductor, const Switching& switching) const;
    /// Current through each link per ampere of line current taken out at each vertex,
    /// [link][vertex], hot; only of a complete record.
    [[nodiscard]] std::vector<std::vector<Complex>> shares(const Switching& switching) const;
    /// Type and length of every section are on record: both bounds are exact.
    [[nodiscard]] bool is_complete() const noexcept { return m_is_complete; }
    /// As given.
    [[nodiscard]] const Block& block() const noexcept { return m_block; }
    /// As given.
    [[nodiscard]] const PieceOhms& ohms(std::size_t section) const { return m_ohms[section]; }

  private:
    struct Solved;
    struct Problem;
    struct Box {
        Complex low, high;
    };
    [[nodiscard]] Box box(std::size_t section, Conductor conductor, Condition condition) const;
    [[nodiscard]] Presence presence(std::size_t section, Conductor conductor) const;
    template <class Ohms>
    [[nodiscard]] Solved solve(Conductor conductor, const Switching& switching, Ohms ohms_of) const;
    [[nodiscard]] Problem problem(Conductor conductor, Condition condition) const;
    [[nodiscard]] Solved solve_high(Conductor conductor, Condition condition,
                                    const Switching& switching, const Problem& problem) const;

    const Block& m_block;
    std::vector<PieceOhms> m_ohms;
    bool m_is_complete = true;
};

} // namespace loopwalk::solution
