#include "loopwalk/outage/outage.hpp"

#include "loopwalk/base/error.hpp"

#include "pairs.hpp"
#include "singles.hpp"
#include <algorithm>
#include <limits>

namespace loopwalk::outage {
namespace {

std::vector<ColumnId> listed(const SupplyGraph& graph, const ColumnSet& set) {
    std::vector<ColumnId> columns;
    for (std::size_t n = 0; n < graph.columns.size(); ++n) {
        if (set.has(n)) {
            columns.push_back(graph.columns[n]);
        }
    }
    return columns;
}

Explanation explanation_of(const Board& board, const Candidate& candidate) {
    const auto of = [&](ColumnSet set, const ColumnSet& within) {
        set &= within;
        return listed(board.graph(), set);
    };
    const Effect& effect = candidate.effect;
    ColumnSet either = effect.certain;
    either |= effect.possible;
    ColumnSet unexplained = board.out();
    unexplained -= either;
    ColumnSet named = board.out();
    named |= board.lit();
    ColumnSet also_out = effect.certain;
    also_out -= named;
    ColumnSet may_be_out = effect.possible;
    may_be_out -= named;
    return {.alternatives = candidate.alternatives,
            .explained = of(either, board.out()),
            .unexplained = listed(board.graph(), unexplained),
            .contradicted = of(effect.certain, board.lit()),
            .relying = of(effect.possible, named),
            .also_out = listed(board.graph(), also_out),
            .may_be_out = listed(board.graph(), may_be_out)};
}

/// Metres from the nearest column that is out; far where there is no place.
double walk_to(const Inputs& in, const Seen& seen, ColumnId id) {
    const model::Column& column = in.layers.columns[id.index()];
    double least = std::numeric_limits<double>::infinity();
    for (const ColumnId out : seen.out) {
        const model::Column& from = in.layers.columns[out.index()];
        if (column.has_place && from.has_place) {
            least = std::min(least, base::distance(column.place, from.place));
        }
    }
    return least;
}

/// The column whose lamp leaves the fewest explanations in the worse case; of equals the one that
/// is decided by most, then the nearest.
std::optional<NextColumn> next_column(const Inputs& in, const Seen& seen, const Board& board,
                                      std::span<const Candidate> left) {
    std::optional<NextColumn> best;
    std::tuple<std::size_t, std::size_t, double> least;
    for (std::size_t n = 0; n < board.graph().columns.size(); ++n) {
        if (board.out().has(n) || board.lit().has(n)) {
            continue;
        }
        NextColumn next{board.graph().columns[n], 0, 0};
        for (const Candidate& candidate : left) {
            const bool is_out = candidate.effect.certain.has(n);
            const bool may_be_out = candidate.effect.possible.has(n);
            next.left_if_out += is_out || may_be_out ? 1U : 0U;
            next.left_if_lit += is_out ? 0U : 1U;
        }
        const std::size_t most = std::max(next.left_if_out, next.left_if_lit);
        if (most >= left.size()) {
            continue;
        }
        const std::tuple worth(most, next.left_if_out + next.left_if_lit,
                               walk_to(in, seen, next.column));
        if (!best.has_value() || worth < least) {
            best = next;
            least = worth;
        }
    }
    return best;
}

/// Whether some stretch of cable stands on every path to a column.
bool hangs_on_a_cable(const Board& board, std::uint32_t number) {
    for (PlaceNode node = board.graph().lamps[number]; node != kNoPlace;
         node = board.cuts().above[node]) {
        const PlaceKind kind = board.graph().places[node].kind;
        if (kind == PlaceKind::section || kind == PlaceKind::unrecorded ||
            kind == PlaceKind::service) {
            return true;
        }
    }
    return false;
}

void note_columns(const Inputs& in, const Seen& seen, const Board& board, Assumed& assumed) {
    const auto& near_main = board.graph().by_near_main;
    for (const auto* columns : {&seen.out, &seen.lit}) {
        for (const ColumnId id : *columns) {
            if (std::ranges::binary_search(near_main, id)) {
                assumed.by_near_main.push_back(id);
            } else if (trace::fed_component(in.network, in.trace, id) == nullptr) {
                assumed.not_traced.push_back(id);
            }
        }
    }
    for (std::size_t n = 0; n < board.graph().columns.size(); ++n) {
        if (board.traits()[n].is_phase_open) {
            assumed.phase_unknown.push_back(board.graph().columns[n]);
        }
    }
    for (const ColumnId id : seen.out) {
        const std::uint32_t number = board.number_of(id);
        if (board.traits()[number].by_contactor == Certainty::possible) {
            assumed.switching_unknown.push_back(id);
        }
        if (!hangs_on_a_cable(board, number)) {
            assumed.fed_twice.push_back(id);
        }
    }
}

void note_cables(const Inputs& in, const SupplyGraph& graph, Assumed& assumed) {
    for (const Place& place : graph.places) { // sections ascending, so cables are, too
        if (place.kind != PlaceKind::section) {
            continue;
        }
        const CableId cable = in.network.snapped.sections[place.index].cable;
        const model::Status status = in.layers.cables[cable.index()].status;
        auto* list = status == model::Status::unclear    ? &assumed.status_unclear
                     : status == model::Status::proposed ? &assumed.proposed
                                                         : nullptr;
        if (list != nullptr && (list->empty() || list->back() != cable)) {
            list->push_back(cable);
        }
        if (in.network.side_unknown[place.index] != 0) {
            assumed.side_unknown.emplace_back(place.index);
        }
    }
}

} // namespace

std::string_view place_kind_name(PlaceKind kind) noexcept {
    switch (kind) {
    case PlaceKind::passed:
        break;
    case PlaceKind::way:
        return "way";
    case PlaceKind::cut_out:
        return "cut-out";
    case PlaceKind::fused_joint:
        return "fused joint";
    case PlaceKind::lamp:
        return "lamp";
    case PlaceKind::tap:
        return "service joint";
    case PlaceKind::section:
        return "section";
    case PlaceKind::terminals:
        return "terminals";
    case PlaceKind::joint:
        return "joint";
    case PlaceKind::meeting:
        return "meeting";
    case PlaceKind::busbar:
        return "busbar";
    case PlaceKind::supply:
        return "supply";
    case PlaceKind::service:
        return "service";
    case PlaceKind::main:
        return "main";
    case PlaceKind::substation:
        return "substation";
    case PlaceKind::unrecorded:
        return "unrecorded source";
    }
    return {};
}

std::string_view scope_name(Scope scope) noexcept {
    switch (scope) {
    case Scope::whole:
        return "whole";
    case Scope::switching:
        return "switching";
    case Scope::l1:
        return "L1";
    case Scope::l2:
        return "L2";
    case Scope::l3:
        return "L3";
    }
    return {};
}

std::vector<const Explanation*> in_order(const Diagnosis& diagnosis, FollowsSwitching switching) {
    std::vector<const Explanation*> all;
    for (std::size_t n = 0; n < diagnosis.complete_singles; ++n) {
        all.push_back(&diagnosis.singles[n]);
    }
    for (const Explanation& pair : diagnosis.pairs) {
        all.push_back(&pair);
    }
    std::ranges::stable_sort(all, {}, [switching](const Explanation* e) {
        const bool is_single = e->alternatives.front().size() == 1;
        const bool is_asked_for =
            switching == FollowsSwitching::yes && is_single &&
            std::ranges::any_of(e->alternatives, [](const std::vector<Loss>& losses) {
                return losses.front().scope == Scope::switching;
            });
        const int kind = is_single ? 1 : 2;
        return is_asked_for ? 0 : e->relying.empty() ? kind : kind + 2;
    });
    return all;
}

Diagnosis diagnose(const Inputs& inputs, const Seen& seen) {
    LW_ASSERT(!seen.out.empty());
    const SupplyGraph graph = make_supply_graph(inputs, seen);
    const Board board(inputs, graph, seen);
    Diagnosis diagnosis;
    diagnosis.looked_at = graph.columns;
    std::vector<Candidate> singles = find_singles(inputs, board);
    bool is_settled = false; // by a single loss, with nothing left open
    for (const Candidate& single : singles) {
        diagnosis.singles.push_back(explanation_of(board, single));
        const Explanation& explanation = diagnosis.singles.back();
        diagnosis.complete_singles += explanation.is_complete() ? 1U : 0U;
        is_settled = is_settled || (explanation.is_complete() && explanation.relying.empty());
    }
    if (!is_settled) {
        Pairs pairs = find_pairs(board, singles);
        diagnosis.are_pairs_whole = pairs.is_whole;
        for (const Candidate& pair : pairs.found) {
            diagnosis.pairs.push_back(explanation_of(board, pair));
        }
        singles.resize(diagnosis.complete_singles);
        std::ranges::move(pairs.found, std::back_inserter(singles));
    }
    singles.resize(diagnosis.complete_singles + diagnosis.pairs.size());
    diagnosis.next = next_column(inputs, seen, board, singles);
    note_columns(inputs, seen, board, diagnosis.assumed);
    note_cables(inputs, graph, diagnosis.assumed);
    return diagnosis;
}

} // namespace loopwalk::outage
