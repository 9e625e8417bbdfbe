// How a column is fed, as people ask: straight off a main, from a pillar, from the next column.
#pragma once

#include "loopwalk/figures/figures.hpp"

namespace loopwalk::protection {

/// What a column hangs on: the word of `lw_feed`.
enum class FeedKind : std::uint8_t { not_traced, pillar, main, column, several };
/// How that is known: the word of `lw_feed_basis`.
enum class FeedBasis : std::uint8_t { none, traced, stated, nearest_main };
/// Both words for one column.
struct Feed {
    FeedKind kind = FeedKind::not_traced; ///< what it hangs on
    FeedBasis basis = FeedBasis::none;    ///< how that is known
};

/// Finds the feed of columns. Never changes.
class Feeds {
  public:
    /// `reach`: how near a main must lie for a column without a cable to be taken as fed from it.
    Feeds(const figures::Inputs& inputs, const figures::Figures& figures);

    /// By the infeed of the path; where no path was found, by what is stated or lies near.
    [[nodiscard]] Feed of(base::ColumnId id) const;

  private:
    void mark_near_mains(base::Metre reach);

    const model::Layers& m_layers;
    const network::Network& m_net;
    const trace::Trace& m_trace;
    const figures::Figures& m_figures;
    std::vector<std::uint8_t> m_near_main; ///< by column: a main lies within reach
};

} // namespace loopwalk::protection
