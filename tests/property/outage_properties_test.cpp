// Dark streets against brute force: every place of a random street is lost in turn, some of what is
// then dark and lit is told, and the place must be among those that explain it. Where the records
// tell all, the list is exactly what trying every place finds, and the first of it the place itself
// if nothing else would look the same. Likewise for two places lost together on small streets.
#include "loopwalk/outage/outage.hpp"

#include <gtest/gtest.h>

#include "cases.hpp"
#include "lit_street.hpp"
#include <algorithm>
#include <map>
#include <set>

namespace loopwalk::outage {
namespace {

using test::Fault;
using test::Telling;
using test::World;

/// Some of what is dark, at least one, and some of what is lit.
Seen look(std::mt19937_64& random, std::size_t columns, std::uint64_t dark) {
    const auto chance = [&](double of) {
        return std::uniform_real_distribution<double>(0.0, 1.0)(random) < of;
    };
    const double thoroughness = chance(0.3) ? 1.0 : 0.4; // some tell all there is
    Seen seen;
    std::vector<ColumnId> all_dark;
    for (std::size_t n = 0; n < columns; ++n) {
        const bool is_dark = ((dark >> n) & 1U) != 0;
        if (is_dark) {
            all_dark.emplace_back(n);
        }
        if (chance(thoroughness)) {
            (is_dark ? seen.out : seen.lit).emplace_back(n);
        }
    }
    if (seen.out.empty()) {
        seen.out.push_back(
            all_dark[std::uniform_int_distribution<std::size_t>(0, all_dark.size() - 1)(random)]);
    }
    return seen;
}

std::uint64_t bits(const std::vector<ColumnId>& columns) {
    std::uint64_t all = 0;
    for (const ColumnId id : columns) {
        all |= std::uint64_t{1} << id.index();
    }
    return all;
}

bool agrees(std::uint64_t dark, const Seen& seen) {
    return (bits(seen.out) & ~dark) == 0 && (bits(seen.lit) & dark) == 0;
}

bool holds(const Explanation& explanation, std::vector<Loss> losses) {
    std::ranges::sort(losses);
    return std::ranges::find(explanation.alternatives, losses) != explanation.alternatives.end();
}

/// The losses are named, or all of one of their places where a part of it is meant.
bool is_named(const Explanation& explanation, const std::vector<Loss>& losses) {
    if (holds(explanation, losses)) {
        return true;
    }
    for (std::size_t widened = 1; widened < (1U << losses.size()); ++widened) {
        std::vector<Loss> wide = losses;
        for (std::size_t i = 0; i < wide.size(); ++i) {
            wide[i].scope = (widened >> i) & 1U ? Scope::whole : wide[i].scope;
        }
        if (holds(explanation, wide)) {
            return true;
        }
    }
    return false;
}

std::string story(const Street& street, const std::vector<Fault>& faults, const Seen& seen) {
    std::string text = "lost:";
    for (const Fault& fault : faults) {
        text += " " + test::text_of(street.world, fault) + ",";
    }
    for (const auto& [name, columns] :
         {std::pair(" out:", &seen.out), std::pair(" lit:", &seen.lit)}) {
        text += name;
        for (const ColumnId id : *columns) {
            text += " " + street.layers.id_text(street.layers.columns[id.index()].id);
        }
    }
    return text;
}

/// The smallest number of explanations that a further lamp leaves in the worse case.
std::size_t best_halving(const Street& street, const Seen& seen,
                         const std::set<std::uint64_t>& left) {
    std::size_t best = left.size();
    for (std::size_t n = 0; n < street.columns.size(); ++n) {
        const std::uint64_t bit = std::uint64_t{1} << n;
        if (((bits(seen.out) | bits(seen.lit)) & bit) != 0) {
            continue;
        }
        const auto out = static_cast<std::size_t>(
            std::ranges::count_if(left, [bit](std::uint64_t dark) { return (dark & bit) != 0; }));
        best = std::min(best, std::max(out, left.size() - out));
    }
    return best;
}

void check_next(const Street& street, const Seen& seen, const Diagnosis& diagnosis,
                const std::set<std::uint64_t>& left) {
    const std::size_t best = best_halving(street, seen, left);
    ASSERT_EQ(diagnosis.next.has_value(), best < left.size());
    if (diagnosis.next.has_value()) {
        EXPECT_EQ(std::max(diagnosis.next->left_if_out, diagnosis.next->left_if_lit), best);
    }
}

void check_effect(const Explanation& explanation, std::uint64_t dark, const Seen& seen) {
    EXPECT_EQ(bits(explanation.also_out), dark & ~bits(seen.out) & ~bits(seen.lit));
    EXPECT_TRUE(explanation.relying.empty());
    EXPECT_TRUE(explanation.may_be_out.empty());
}

/// Where nothing is left out of the records.
void check_singles_exactly(const Street& street, std::size_t lost, const Seen& seen,
                           const Diagnosis& diagnosis) {
    std::set<std::uint64_t> looks;
    std::set<Loss> possible;
    for (std::size_t f = 0; f < street.faults.size(); ++f) {
        if (!agrees(street.dark[f], seen)) {
            continue;
        }
        looks.insert(street.dark[f]);
        const Loss loss = street.loss_of(street.faults[f]);
        possible.insert(loss);
        const auto end =
            diagnosis.singles.begin() + static_cast<std::ptrdiff_t>(diagnosis.complete_singles);
        EXPECT_TRUE(std::any_of(diagnosis.singles.begin(), end,
                                [&](const Explanation& e) { return is_named(e, {loss}); }))
            << "not listed: " << test::text_of(street.world, street.faults[f]);
    }
    EXPECT_EQ(diagnosis.complete_singles, looks.size());
    for (std::size_t e = 0; e < diagnosis.complete_singles; ++e) {
        for (const auto& losses : diagnosis.singles[e].alternatives) {
            EXPECT_TRUE(possible.contains(losses.front()))
                << "listed, and it does not explain what was seen: "
                << place_kind_name(losses.front().place.kind) << " " << losses.front().place.index
                << " " << scope_name(losses.front().scope);
        }
    }
    if (looks.size() == 1) {
        ASSERT_FALSE(diagnosis.singles.empty());
        EXPECT_TRUE(is_named(diagnosis.singles.front(), {street.loss_of(street.faults[lost])}));
        check_effect(diagnosis.singles.front(), street.dark[lost], seen);
    }
    check_next(street, seen, diagnosis, looks);
}

void lose_each(const Street& street, std::mt19937_64& random, Telling telling) {
    for (std::size_t f = 0; f < street.faults.size() && !testing::Test::HasFailure(); ++f) {
        if (street.dark[f] == 0) {
            continue;
        }
        const Seen seen = look(random, street.columns.size(), street.dark[f]);
        SCOPED_TRACE(story(street, {street.faults[f]}, seen));
        const Diagnosis diagnosis = street.diagnose(seen);
        const auto end =
            diagnosis.singles.begin() + static_cast<std::ptrdiff_t>(diagnosis.complete_singles);
        const Loss loss = street.loss_of(street.faults[f]);
        EXPECT_TRUE(std::any_of(diagnosis.singles.begin(), end, [&](const Explanation& e) {
            return is_named(e, {loss});
        })) << "what was lost is not in the list";
        EXPECT_TRUE(telling == Telling::worn || diagnosis.pairs.empty());
        if (telling == Telling::all) {
            check_singles_exactly(street, f, seen, diagnosis);
        }
    }
}

TEST(OutageProperty, EveryLossIsFound) {
    const test::Cases run = test::cases(300);
    for (std::uint64_t seed = run.first; seed < run.first + run.count && !HasFailure(); ++seed) {
        SCOPED_TRACE("LW_TEST_SEED=" + std::to_string(seed));
        std::mt19937_64 random(seed);
        const Telling telling = seed % 2 == 0 ? Telling::worn : Telling::all;
        const Street street(test::random_world(random, telling, seed % 3 == 0 ? 5 : 4));
        lose_each(street, random, telling);
    }
}

/// Every two places of a small street, lost together.
void check_pairs_exactly(const Street& street, const Seen& seen, const Diagnosis& diagnosis) {
    std::set<std::uint64_t> looks;
    std::map<std::vector<Loss>, std::uint64_t> possible;
    for (std::size_t a = 0; a < street.faults.size(); ++a) {
        for (std::size_t b = a + 1; b < street.faults.size(); ++b) {
            const std::uint64_t dark =
                test::dark_columns(street.world, {street.faults[a], street.faults[b]});
            if (!agrees(dark, seen)) {
                continue;
            }
            looks.insert(dark);
            std::vector<Loss> losses{street.loss_of(street.faults[a]),
                                     street.loss_of(street.faults[b])};
            std::ranges::sort(losses);
            EXPECT_TRUE(std::ranges::any_of(
                diagnosis.pairs, [&](const Explanation& e) { return is_named(e, losses); }))
                << "not listed: " << test::text_of(street.world, street.faults[a]) << " and "
                << test::text_of(street.world, street.faults[b]);
            possible.emplace(std::move(losses), dark);
        }
    }
    EXPECT_EQ(diagnosis.pairs.size(), looks.size());
    for (const Explanation& explanation : diagnosis.pairs) {
        for (const auto& losses : explanation.alternatives) {
            EXPECT_TRUE(possible.contains(losses))
                << "listed, and it does not explain what was seen";
            if (possible.contains(losses)) {
                check_effect(explanation, possible.at(losses), seen);
            }
        }
    }
}

/// One loss explains it with nothing left open, or one of the two by itself may.
bool is_settled_by_one(const Diagnosis& diagnosis, const std::vector<Loss>& losses) {
    return std::any_of(
        diagnosis.singles.begin(),
        diagnosis.singles.begin() + static_cast<std::ptrdiff_t>(diagnosis.complete_singles),
        [&](const Explanation& e) {
            return e.relying.empty() || is_named(e, {losses[0]}) || is_named(e, {losses[1]});
        });
}

TEST(OutageProperty, TwoLossesAreFound) {
    const test::Cases run = test::cases(200);
    std::size_t found = 0;
    std::size_t in_loops = 0;
    for (std::uint64_t seed = run.first; seed < run.first + run.count && !HasFailure(); ++seed) {
        std::mt19937_64 random(seed);
        const Telling telling = seed % 2 == 0 ? Telling::worn : Telling::all;
        const Street street(test::random_world(random, telling, 3));
        for (int n = 0; n < 8 && !HasFailure(); ++n) {
            std::uniform_int_distribution<std::size_t> any(0, street.faults.size() - 1);
            const std::size_t a = any(random);
            const std::size_t b = any(random);
            const std::uint64_t dark =
                test::dark_columns(street.world, {street.faults[a], street.faults[b]});
            if (a == b || dark == 0) {
                continue;
            }
            const Seen seen = look(random, street.columns.size(), dark);
            SCOPED_TRACE("LW_TEST_SEED=" + std::to_string(seed) + " " +
                         story(street, {street.faults[a], street.faults[b]}, seen));
            const Diagnosis diagnosis = street.diagnose(seen);
            const std::vector<Loss> losses{street.loss_of(street.faults[a]),
                                           street.loss_of(street.faults[b])};
            if (is_settled_by_one(diagnosis, losses)) {
                continue; // one loss looks the same
            }
            EXPECT_TRUE(std::ranges::any_of(diagnosis.pairs, [&](const Explanation& e) {
                return is_named(e, losses);
            })) << "what was lost is not in the list";
            ++found;
            in_loops += dark != (street.dark[a] | street.dark[b]) ? 1U : 0U;
            if (telling == Telling::all && n < 2) {
                check_pairs_exactly(street, seen, diagnosis);
            }
        }
    }
    std::cout << found << " pairs looked for, " << in_loops << " of them in loops\n";
    EXPECT_TRUE(HasFailure() || run.count < 200 || (found > 100 && in_loops > 5));
}

} // namespace
} // namespace loopwalk::outage
