#include "singles.hpp"

#include <algorithm>
#include <map>

namespace loopwalk::outage {
namespace {

/// Places before the columns that are out.
std::vector<std::uint8_t> places_before(const Board& board) {
    std::vector<std::uint8_t> is_before(board.graph().size());
    for (const std::uint32_t number : board.out_numbers()) {
        PlaceNode node = board.graph().lamps[number];
        while (node != kNoPlace && is_before[node] == 0) {
            is_before[node] = 1;
            node = board.cuts().above[node];
        }
    }
    return is_before;
}

class Singles {
  public:
    Singles(const Inputs& in, const Board& board) : m_in(in), m_board(board) {}

    std::vector<Candidate> run() {
        find_unclear_sides();
        const std::vector<ColumnSet> without = columns_without(m_board, wanted());
        for (PlaceNode node = 0; node < without.size(); ++node) {
            const Place place = m_board.graph().places[node];
            const bool is_unclear =
                place.kind == PlaceKind::cut_out && m_unclear.contains(place.index);
            if (place.kind != PlaceKind::passed && !is_unclear &&
                without[node].meets(m_board.out())) {
                add_parts(place, without[node]);
            }
        }
        add_unclear_sides(without);
        std::vector<Candidate> all;
        for (auto& [effect, losses] : m_losses) {
            Candidate candidate{{}, effect, {}};
            for (const Loss& loss : without_repeats(losses)) {
                candidate.alternatives.push_back({loss});
            }
            m_board.rank(candidate);
            all.push_back(std::move(candidate));
        }
        std::ranges::sort(all, [](const Candidate& a, const Candidate& b) {
            return std::tie(a.rank, a.alternatives) < std::tie(b.rank, b.alternatives);
        });
        return all;
    }

  private:
    void add(const Loss& loss, const Effect& effect) {
        if (m_board.explains_some(effect)) {
            m_losses[effect].push_back(loss);
        }
    }

    void add_parts(Place place, const ColumnSet& without) {
        add({place, Scope::whole}, m_board.effect({place, Scope::whole}, without));
        for (const Scope scope : m_board.parts_of(place, without)) {
            add({place, scope}, m_board.effect({place, scope}, without));
        }
    }

    /// Cables that may hang behind the fuse of the cut-out before them, by the cut-out's column.
    void find_unclear_sides() {
        const auto& places = m_board.graph().places;
        for (PlaceNode node = 1; node < places.size(); ++node) {
            const PlaceNode before = m_board.cuts().above[node];
            if (places[node].kind == PlaceKind::section &&
                m_in.network.side_unknown[places[node].index] != 0 && before != kNoPlace &&
                places[before].kind == PlaceKind::terminals) {
                m_unclear[places[before].index].push_back(node);
            }
        }
    }

    /// By node: what the effect of unclear sides is made of.
    [[nodiscard]] std::vector<std::uint8_t> wanted() const {
        const auto& places = m_board.graph().places;
        std::vector<std::uint8_t> is_wanted(places.size());
        for (PlaceNode node = 1; node < places.size(); ++node) {
            const bool is_cut_out = places[node].kind == PlaceKind::cut_out;
            is_wanted[node] = is_cut_out && m_unclear.contains(places[node].index) ? 1 : 0;
        }
        return is_wanted;
    }

    /// A cable on an unknown side of a cut-out's fuse may go out with it.
    void add_unclear_sides(const std::vector<ColumnSet>& without) {
        std::map<std::uint32_t, ColumnSet> own; // by column: what is certain
        for (const auto& [column, nodes] : m_unclear) {
            own[column] = m_board.no_columns();
            own[column].add(m_board.number_of(ColumnId(column)));
        }
        for (PlaceNode node = 1; node < without.size(); ++node) {
            const Place place = m_board.graph().places[node];
            if (place.kind == PlaceKind::cut_out && own.contains(place.index)) {
                own[place.index] = without[node];
            }
        }
        for (const auto& [column, nodes] : m_unclear) {
            ColumnSet behind = m_board.no_columns();
            const Cuts cuts = find_cuts(m_board.graph(), nodes); // if all of them hang behind it
            for (std::size_t n = 0; n < m_board.graph().lamps.size(); ++n) {
                if (!cuts.has_supply(m_board.graph().lamps[n])) {
                    behind.add(n);
                }
            }
            add_unclear_side({PlaceKind::cut_out, column}, own[column], behind);
        }
    }

    void add_unclear_side(Place cut_out, const ColumnSet& own, const ColumnSet& behind) {
        std::vector<Scope> scopes = m_board.parts_of(cut_out, behind);
        scopes.push_back(Scope::whole);
        for (const Scope scope : scopes) {
            Effect effect = m_board.effect({cut_out, scope}, own);
            const Effect further = m_board.effect({cut_out, scope}, behind);
            effect.possible |= further.certain;
            effect.possible |= further.possible;
            effect.possible -= effect.certain;
            add({cut_out, scope}, effect);
        }
    }

    /// A phase of a place says nothing new where all of the place puts out the same columns.
    static std::vector<Loss> without_repeats(const std::vector<Loss>& losses) {
        std::vector<Loss> kept;
        for (const Loss& loss : losses) {
            const bool is_phase = loss.scope >= Scope::l1;
            const bool is_told = std::ranges::any_of(losses, [&](const Loss& other) {
                return other.place == loss.place && other.scope == Scope::whole;
            });
            if (!is_phase || !is_told) {
                kept.push_back(loss);
            }
        }
        return kept;
    }

    const Inputs& m_in;
    const Board& m_board;
    std::map<Effect, std::vector<Loss>> m_losses;
    std::map<std::uint32_t, std::vector<PlaceNode>> m_unclear;
};

} // namespace

std::vector<ColumnSet> columns_without(const Board& board, const std::vector<std::uint8_t>& more) {
    std::vector<std::uint8_t> wanted = places_before(board);
    for (std::size_t n = 0; n < more.size(); ++n) {
        wanted[n] = wanted[n] != 0 || more[n] != 0 ? 1 : 0;
    }
    std::vector<ColumnSet> without(board.graph().size());
    const auto& lamps = board.graph().lamps;
    for (std::size_t number = 0; number < lamps.size(); ++number) {
        for (PlaceNode node = lamps[number]; node != kNoPlace; node = board.cuts().above[node]) {
            if (wanted[node] != 0) {
                without[node] = without[node] == ColumnSet{} ? board.no_columns() : without[node];
                without[node].add(number);
            }
        }
    }
    for (std::size_t n = 0; n < without.size(); ++n) {
        if (wanted[n] != 0 && without[n] == ColumnSet{}) {
            without[n] = board.no_columns();
        }
    }
    return without;
}

std::vector<Candidate> find_singles(const Inputs& inputs, const Board& board) {
    return Singles(inputs, board).run();
}

} // namespace loopwalk::outage
