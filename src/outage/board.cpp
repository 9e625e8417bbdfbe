#include "board.hpp"

#include <algorithm>
#include <tuple>

namespace loopwalk::outage {

Board::Board(const Inputs& inputs, const SupplyGraph& graph, const Seen& seen)
    : m_graph(graph), m_cuts(find_cuts(graph)), m_traits(column_traits(inputs, graph)),
      m_out(graph.columns.size()), m_lit(graph.columns.size()), m_follows(seen.switching) {
    for (const ColumnId id : seen.out) {
        m_out_numbers.push_back(number_of(id));
        m_out.add(m_out_numbers.back());
    }
    for (const ColumnId id : seen.lit) {
        m_lit.add(number_of(id));
    }
}

std::uint32_t Board::number_of(ColumnId id) const {
    const auto found = std::ranges::lower_bound(m_graph.columns, id);
    return static_cast<std::uint32_t>(found - m_graph.columns.begin());
}

Effect Board::effect(const Loss& loss, const ColumnSet& without_supply) const {
    Effect effect{no_columns(), no_columns()};
    if (loss.scope == Scope::whole) {
        effect.certain = without_supply;
        return effect;
    }
    for (std::size_t n = 0; n < m_traits.size(); ++n) {
        if (!without_supply.has(n)) {
            continue;
        }
        const Certainty certainty = covers(loss, m_traits[n]);
        if (certainty == Certainty::certain) {
            effect.certain.add(n);
        } else if (certainty == Certainty::possible) {
            effect.possible.add(n);
        }
    }
    return effect;
}

std::vector<Scope> Board::parts_of(Place place, const ColumnSet& without_supply) const {
    std::vector<Scope> parts;
    const bool is_own = place.kind == PlaceKind::lamp || place.kind == PlaceKind::unrecorded ||
                        place.kind == PlaceKind::service;
    if (is_own) {
        return parts;
    }
    Phases phases = 0;
    bool has_core = false;
    for (std::size_t n = 0; n < m_traits.size(); ++n) {
        if (without_supply.has(n)) {
            const ColumnTraits& column = m_traits[n];
            phases = static_cast<Phases>(
                phases | (is_of_mains(place.kind) ? column.of_mains : column.phases));
            has_core = has_core || column.by_core == Certainty::certain;
        }
    }
    const bool is_cable = !has_contactor(place.kind) && !is_of_mains(place.kind) &&
                          place.kind != PlaceKind::tap && place.kind != PlaceKind::cut_out;
    if (has_contactor(place.kind) || (is_cable && has_core)) {
        parts.push_back(Scope::switching);
    }
    if ((phases & (phases - 1)) != 0) {
        parts.insert(parts.end(), {Scope::l1, Scope::l2, Scope::l3});
    }
    return parts;
}

bool Board::explains_all(const Effect& effect) const {
    ColumnSet either = effect.certain;
    either |= effect.possible;
    return either.holds(m_out);
}

bool Board::is_switching(const std::vector<Loss>& losses) const {
    return std::ranges::any_of(losses,
                               [](const Loss& loss) { return loss.scope == Scope::switching; });
}

/// A single column out is first its own lamp's affair; an outage that follows switching, that of
/// what switches.
std::size_t Board::order_of(const std::vector<Loss>& losses) const {
    if (m_follows == FollowsSwitching::yes && is_switching(losses)) {
        return 0;
    }
    std::size_t order = 0;
    for (const Loss& loss : losses) {
        const bool is_lamp_alone = loss.place.kind == PlaceKind::lamp && m_out_numbers.size() == 1;
        order = std::max(order, is_lamp_alone ? 1 : 2 + static_cast<std::size_t>(loss.place.kind));
    }
    return order;
}

void Board::rank(Candidate& candidate) const {
    std::ranges::sort(candidate.alternatives, {}, [this](const std::vector<Loss>& losses) {
        return std::tuple(order_of(losses), losses.front().scope, losses);
    });
    const Effect& effect = candidate.effect;
    ColumnSet unexplained = m_out;
    unexplained -= effect.certain;
    ColumnSet relying = effect.possible;
    ColumnSet named = m_out;
    named |= m_lit;
    relying &= named;
    unexplained -= effect.possible;
    ColumnSet contradicted = effect.certain;
    contradicted &= m_lit;
    ColumnSet also_out = effect.certain;
    also_out -= named;
    const bool is_asked_for =
        m_follows == FollowsSwitching::yes &&
        std::ranges::any_of(candidate.alternatives,
                            [this](const auto& losses) { return is_switching(losses); });
    ColumnSet may_be_out = effect.possible;
    may_be_out -= named;
    candidate.rank = {unexplained.count() + contradicted.count(),
                      contradicted.count(),
                      is_asked_for ? std::size_t{0} : std::size_t{1},
                      relying.count(),
                      also_out.count(),
                      may_be_out.count(),
                      order_of(candidate.alternatives.front())};
}

} // namespace loopwalk::outage
