// All that the searches share: what was seen, what hangs where, and how an explanation ranks.
#pragma once

#include "column_set.hpp"
#include "cuts.hpp"
#include "traits.hpp"
#include <array>

namespace loopwalk::outage {

/// Smaller comes first. Of those that explain as much: what rests on known records first, then what
/// puts out the fewest other columns (the place nearest to the dark ones).
using Rank = std::array<std::size_t, 7>;

struct Candidate {
    std::vector<std::vector<Loss>> alternatives; ///< as in Explanation, the first first
    Effect effect;
    Rank rank{};
};

class Board {
  public:
    Board(const Inputs& inputs, const SupplyGraph& graph, const Seen& seen);

    [[nodiscard]] const SupplyGraph& graph() const noexcept { return m_graph; }
    [[nodiscard]] const Cuts& cuts() const noexcept { return m_cuts; }
    [[nodiscard]] const std::vector<ColumnTraits>& traits() const noexcept { return m_traits; }
    [[nodiscard]] const ColumnSet& out() const noexcept { return m_out; }
    [[nodiscard]] const ColumnSet& lit() const noexcept { return m_lit; }
    /// Numbers of the columns that are out, in `graph().columns`.
    [[nodiscard]] const std::vector<std::uint32_t>& out_numbers() const noexcept {
        return m_out_numbers;
    }
    [[nodiscard]] ColumnSet no_columns() const { return ColumnSet(m_graph.columns.size()); }

    /// What a loss does, of the columns that are without supply if all of the place is lost.
    [[nodiscard]] Effect effect(const Loss& loss, const ColumnSet& without_supply) const;
    /// The scopes that can be lost of a place apart from all of it.
    [[nodiscard]] std::vector<Scope> parts_of(Place place, const ColumnSet& without_supply) const;

    [[nodiscard]] bool explains_all(const Effect& effect) const;
    [[nodiscard]] bool explains_some(const Effect& effect) const {
        return effect.certain.meets(m_out) || effect.possible.meets(m_out);
    }
    [[nodiscard]] bool contradicts(const Effect& effect) const {
        return effect.certain.meets(m_lit);
    }
    /// Brings the alternatives into order, too.
    void rank(Candidate& candidate) const;
    [[nodiscard]] std::uint32_t number_of(ColumnId id) const;

  private:
    [[nodiscard]] std::size_t order_of(const std::vector<Loss>& losses) const;
    [[nodiscard]] bool is_switching(const std::vector<Loss>& losses) const;

    const SupplyGraph& m_graph;
    Cuts m_cuts;
    std::vector<ColumnTraits> m_traits;
    ColumnSet m_out, m_lit;
    std::vector<std::uint32_t> m_out_numbers;
    FollowsSwitching m_follows;
};

} // namespace loopwalk::outage
