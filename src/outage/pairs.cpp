#include "pairs.hpp"

#include "singles.hpp"
#include <algorithm>
#include <map>
#include <set>

namespace loopwalk::outage {
namespace {

constexpr std::size_t kMostKept = 2000;
constexpr std::size_t kMostSteps = 300'000'000; // about two seconds

Effect together(const Effect& a, const Effect& b) {
    Effect both = a;
    both.certain |= b.certain;
    both.possible |= b.possible;
    both.possible -= both.certain;
    return both;
}

/// The best pairs found so far.
class Keeper {
  public:
    explicit Keeper(const Board& board) : m_board(board) {}

    void add(Candidate candidate) {
        m_board.rank(candidate);
        m_kept.push_back(std::move(candidate));
        if (m_kept.size() == 2 * kMostKept) {
            std::ranges::nth_element(m_kept, m_kept.begin() + kMostKept, {}, &Candidate::rank);
            m_kept.resize(kMostKept);
            m_is_whole = false;
        }
    }

    [[nodiscard]] Pairs finish() {
        std::map<Effect, Candidate> alike;
        for (Candidate& one : m_kept) {
            Candidate& all = alike[one.effect];
            all.effect = one.effect;
            std::ranges::move(one.alternatives, std::back_inserter(all.alternatives));
        }
        Pairs pairs;
        pairs.is_whole = m_is_whole;
        for (auto& [effect, candidate] : alike) {
            m_board.rank(candidate);
            pairs.found.push_back(std::move(candidate));
        }
        std::ranges::sort(pairs.found, [](const Candidate& a, const Candidate& b) {
            return std::tie(a.rank, a.alternatives) < std::tie(b.rank, b.alternatives);
        });
        return pairs;
    }

    void note_unfinished() { m_is_whole = false; }

  private:
    const Board& m_board;
    std::vector<Candidate> m_kept;
    bool m_is_whole = true;
};

/// Places that together cut off more than each alone.
using JointPlaces = std::set<std::pair<Place, Place>>;

/// Each loss explains some of the columns but not all, and none contradicts what was seen.
void pair_up(const Board& board, const std::vector<Candidate>& singles, const JointPlaces& joint,
             Keeper& keeper) {
    std::vector<const Candidate*> usable;
    for (const Candidate& single : singles) {
        if (!board.contradicts(single.effect) && !board.explains_all(single.effect)) {
            usable.push_back(&single);
        }
    }
    for (std::size_t i = 0; i < usable.size(); ++i) {
        for (std::size_t j = i + 1; j < usable.size(); ++j) {
            const Effect effect = together(usable[i]->effect, usable[j]->effect);
            if (!board.explains_all(effect)) {
                continue;
            }
            Candidate pair{{}, effect, {}};
            for (const auto& first : usable[i]->alternatives) {
                for (const auto& second : usable[j]->alternatives) {
                    const Loss& a = std::min(first.front(), second.front());
                    const Loss& b = std::max(first.front(), second.front());
                    if (!joint.contains({a.place, b.place})) {
                        pair.alternatives.push_back({a, b});
                    }
                }
            }
            if (!pair.alternatives.empty()) {
                keeper.add(std::move(pair));
            }
        }
    }
}

/// Two places on one loop.
class LoopPairs {
  public:
    LoopPairs(const Board& board, Keeper& keeper) : m_board(board), m_keeper(keeper) {
        mark_looped();
        m_without = columns_without(board, m_is_looped);
    }

    [[nodiscard]] JointPlaces run() {
        const std::size_t most = kMostSteps / std::max<std::size_t>(m_board.graph().size(), 1);
        std::size_t searched = 0;
        for (PlaceNode a = 0; a < m_is_looped.size(); ++a) {
            if (m_is_looped[a] == 0) {
                continue;
            }
            if (++searched > most) {
                m_keeper.note_unfinished();
                break;
            }
            pair_with(a);
        }
        return std::move(m_joint);
    }

  private:
    /// Loops that lie before a column that is out: what hangs on the same places as it.
    void mark_looped() {
        const auto& graph = m_board.graph();
        std::vector<std::uint8_t> is_before(graph.size());
        for (const std::uint32_t number : m_board.out_numbers()) {
            for (PlaceNode node = graph.lamps[number]; node != kNoPlace;
                 node = m_board.cuts().above[node]) {
                is_before[node] = 1;
            }
        }
        m_is_looped.resize(graph.size());
        for (PlaceNode node = 1; node < graph.size(); ++node) {
            const PlaceNode above = m_board.cuts().above[node];
            const bool counts = above != kNoPlace && is_before[above] != 0 &&
                                m_board.cuts().is_looped[node] != 0 &&
                                graph.places[node].kind != PlaceKind::passed;
            m_is_looped[node] = counts ? 1 : 0;
        }
    }

    void pair_with(PlaceNode a) {
        const Cuts cuts = find_cuts(m_board.graph(), {&a, 1});
        const std::vector<PlaceNode> common = places_before_rest(a, cuts);
        if (common.empty()) {
            return;
        }
        const std::vector<std::uint32_t> depth = depths(cuts, common);
        for (std::size_t i = 0; i < common.size(); ++i) {
            const PlaceNode b = common[i];
            if (b > a && m_board.graph().places[b].kind != PlaceKind::passed &&
                m_is_looped[b] != 0) {
                ColumnSet both = m_without[a];
                for (std::size_t n = 0; n < m_board.graph().lamps.size(); ++n) {
                    if (depth[m_board.graph().lamps[n]] > i) {
                        both.add(n);
                    }
                }
                add_pair(a, b, both);
            }
        }
    }

    /// Places on every path to each column that is out and still has supply without `a`, the
    /// outermost first.
    [[nodiscard]] std::vector<PlaceNode> places_before_rest(PlaceNode a, const Cuts& cuts) const {
        std::vector<PlaceNode> common; // from the column outwards
        for (const std::uint32_t number : m_board.out_numbers()) {
            PlaceNode node = m_board.graph().lamps[number];
            if (node == a || m_without[a].has(number)) {
                continue;
            }
            std::vector<PlaceNode> own;
            for (; node != kSource && node != kNoPlace; node = cuts.above[node]) {
                own.push_back(node);
            }
            std::ranges::reverse(own);
            if (common.empty()) {
                common = std::move(own);
            } else {
                const auto [end, other] = std::ranges::mismatch(common, own);
                common.erase(end, common.end());
            }
            if (common.empty()) {
                return {};
            }
        }
        return common;
    }

    /// By node: how many of the places lie before it or are it.
    [[nodiscard]] std::vector<std::uint32_t> depths(const Cuts& cuts,
                                                    const std::vector<PlaceNode>& common) const {
        std::vector<std::uint32_t> depth(m_board.graph().size());
        std::size_t next = 0;
        for (const PlaceNode node : cuts.order) {
            const PlaceNode above = cuts.above[node];
            depth[node] = above == kNoPlace ? 0 : depth[above];
            if (next < common.size() && node == common[next]) {
                depth[node] = static_cast<std::uint32_t>(++next);
            }
        }
        return depth;
    }

    void add_pair(PlaceNode a, PlaceNode b, const ColumnSet& both) {
        ColumnSet jointly = both;
        jointly -= m_without[a];
        jointly -= m_without[b];
        if (jointly.is_empty()) {
            return; // found by pair_up() if it explains anything
        }
        const Place first_place = m_board.graph().places[a];
        const Place second_place = m_board.graph().places[b];
        m_joint.insert(std::minmax(first_place, second_place));
        for (const Scope first : scopes(a, both)) {
            for (const Scope second : scopes(b, both)) {
                const Effect of_first = m_board.effect({first_place, first}, m_without[a]);
                const Effect of_second = m_board.effect({second_place, second}, m_without[b]);
                if (!m_board.explains_all(of_first) && !m_board.explains_all(of_second)) {
                    add_pair({first_place, first}, {second_place, second},
                             together(of_first, of_second), jointly);
                }
            }
        }
    }

    [[nodiscard]] std::vector<Scope> scopes(PlaceNode node, const ColumnSet& both) const {
        std::vector<Scope> all = m_board.parts_of(m_board.graph().places[node], both);
        all.insert(all.begin(), Scope::whole);
        return all;
    }

    void add_pair(const Loss& a, const Loss& b, Effect effect, const ColumnSet& jointly) {
        const bool are_two_phases =
            a.scope >= Scope::l1 && b.scope >= Scope::l1 && a.scope != b.scope;
        for (std::size_t n = 0; n < m_board.traits().size() && !are_two_phases; ++n) {
            if (!jointly.has(n)) {
                continue;
            }
            const Certainty least =
                std::min(covers(a, m_board.traits()[n]), covers(b, m_board.traits()[n]));
            if (least == Certainty::certain) {
                effect.certain.add(n);
            } else if (least == Certainty::possible) {
                effect.possible.add(n);
            }
        }
        effect.possible -= effect.certain;
        if (m_board.explains_all(effect) && !m_board.contradicts(effect)) {
            m_keeper.add({{{std::min(a, b), std::max(a, b)}}, std::move(effect), {}});
        }
    }

    const Board& m_board;
    Keeper& m_keeper;
    std::vector<std::uint8_t> m_is_looped;
    std::vector<ColumnSet> m_without;
    JointPlaces m_joint;
};

} // namespace

Pairs find_pairs(const Board& board, const std::vector<Candidate>& singles) {
    Keeper keeper(board);
    const JointPlaces joint = LoopPairs(board, keeper).run();
    pair_up(board, singles, joint, keeper);
    return keeper.finish();
}

} // namespace loopwalk::outage
