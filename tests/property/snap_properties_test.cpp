// The promises of snapping (docs/snapping.md) on random maps.
#include "loopwalk/network/snap.hpp"

#include <gtest/gtest.h>

#include "property/cases.hpp"
#include "property/random_map.hpp"
#include "property/slow_snap.hpp"
#include <cmath>
#include <map>
#include <set>
#include <tuple>

namespace {

using namespace std::string_literals;
using loopwalk::base::FindingList;
using loopwalk::base::NodeId;
using loopwalk::base::NoProgress;
using loopwalk::base::Point2;
using loopwalk::base::Polyline;
using loopwalk::model::Layers;
using loopwalk::network::Node;
using loopwalk::network::NodeKind;
using loopwalk::network::Section;
using loopwalk::network::Snapped;
namespace test = loopwalk::test;

constexpr double kSnap = 0.5;

struct Run {
    Layers layers;
    Snapped snapped;
    FindingList findings;
};

std::unique_ptr<Run> snap(Layers layers) {
    auto run = std::make_unique<Run>();
    run->layers = std::move(layers);
    NoProgress progress;
    run->snapped = loopwalk::network::snap(run->layers, {}, run->findings, progress);
    run->findings.sort();
    return run;
}

/// Calls check(seed, map) for many maps, until one fails.
template <class Check>
void for_random_maps(std::uint64_t count, Check check) {
    const test::Cases cases = test::cases(count);
    for (std::uint64_t seed = cases.first; seed < cases.first + cases.count; ++seed) {
        const test::RandomMap map = test::make_map(seed);
        check(seed, map);
        if (testing::Test::HasFailure()) {
            ADD_FAILURE() << "LW_TEST_SEED=" << seed << " LW_TEST_CASES=1\n" << test::text_of(map);
            return;
        }
    }
}

/// The sections of a result as cables of their own, over the same assets.
Layers sections_as_cables(const test::RandomMap& map, const Run& run) {
    test::RandomMap next = map;
    next.cables.clear();
    for (std::size_t i = 0; i < run.snapped.sections.size(); ++i) {
        const Section& section = run.snapped.sections[i];
        const auto& cable = run.layers.cables[section.cable.index()];
        next.cables.push_back({std::to_string(100000 + i),
                               std::string(run.layers.text.view(cable.circuit)),
                               {loopwalk::network::section_line(run.layers, run.snapped, section)},
                               cable.status});
    }
    return test::layers_of(next);
}

const Node& node(const Run& run, NodeId id) {
    return run.snapped.nodes[id.index()];
}

/// Two nodes of two runs over the same assets, if they may be the same.
bool alike(const Node& a, const Node& b) {
    return a.kind == b.kind && (a.kind == NodeKind::derived || a.asset == b.asset) &&
           loopwalk::base::distance(a.place, b.place) <= 1e-7;
}

/// Pairs the nodes of two results off with each other, one with one.
class Pairing {
  public:
    bool pair(NodeId a, NodeId b) {
        return m_forth.try_emplace(a, b).first->second == b &&
               m_back.try_emplace(b, a).first->second == a;
    }

  private:
    std::map<NodeId, NodeId> m_forth, m_back;
};

void expect_idempotent(const test::RandomMap& map) {
    const auto first = snap(test::layers_of(map));
    const auto second = snap(sections_as_cables(map, *first));
    EXPECT_TRUE(second->snapped.moves.empty()) << "moves: " << second->snapped.moves.size();
    ASSERT_EQ(second->snapped.sections.size(), first->snapped.sections.size());
    Pairing pairing;
    for (std::size_t i = 0; i < first->snapped.sections.size(); ++i) {
        const Section& a = first->snapped.sections[i];
        Section b = second->snapped.sections[i];
        if (!alike(node(*first, a.from), node(*second, b.from)) ||
            !alike(node(*first, a.to), node(*second, b.to))) {
            std::swap(b.from, b.to); // canonical order turned it round
        }
        ASSERT_TRUE(alike(node(*first, a.from), node(*second, b.from))) << "section " << i;
        ASSERT_TRUE(alike(node(*first, a.to), node(*second, b.to))) << "section " << i;
        const bool is_paired = pairing.pair(a.from, b.from) && pairing.pair(a.to, b.to);
        EXPECT_TRUE(is_paired) << "section " << i << " joins other nodes";
    }
}

TEST(SnapProperties, SnappingTheResultAgainChangesNothing) {
    for_random_maps(20000,
                    [](std::uint64_t, const test::RandomMap& map) { expect_idempotent(map); });
}

void expect_same(const Run& run, const test::SlowResult& slow) {
    ASSERT_EQ(run.snapped.sections.size(), slow.pieces.size());
    std::map<std::size_t, int> forth;
    std::map<int, std::size_t> back;
    const auto expect_node = [&](NodeId id, int other) {
        const test::SlowNode& there = slow.nodes[static_cast<std::size_t>(other)];
        const Node& here = node(run, id);
        EXPECT_EQ(here.kind == NodeKind::derived, there.asset < 0);
        EXPECT_LE(loopwalk::base::distance(here.place, there.place), 1e-7);
        if (there.asset >= 0) {
            EXPECT_EQ(id.index(), static_cast<std::size_t>(there.asset));
        }
        EXPECT_EQ(forth.try_emplace(id.index(), other).first->second, other);
        EXPECT_EQ(back.try_emplace(other, id.index()).first->second, id.index());
    };
    for (std::size_t i = 0; i < slow.pieces.size(); ++i) {
        SCOPED_TRACE("section " + std::to_string(i));
        const Section& a = run.snapped.sections[i];
        const test::SlowPiece& b = slow.pieces[i];
        EXPECT_EQ(a.part.index(), static_cast<std::size_t>(b.part));
        EXPECT_NEAR(a.from_measure, b.from_measure, 1e-7);
        EXPECT_NEAR(a.to_measure, b.to_measure, 1e-7);
        expect_node(a.from, b.from);
        expect_node(a.to, b.to);
    }
}

/// Ends that hang loose: cable, place, whether ambiguous.
using LooseSet = std::multiset<std::tuple<std::size_t, Point2, bool>>;

LooseSet loose_ends(const Run& run) {
    LooseSet result;
    for (const auto& end : run.snapped.loose_ends) {
        result.emplace(end.cable.index(), node(run, end.node).place, end.ambiguous);
    }
    return result;
}

LooseSet loose_ends(const test::SlowResult& slow) {
    LooseSet result;
    for (const test::SlowEnd& end : slow.ends) {
        int meeting = 0;
        for (const test::SlowPiece& piece : slow.pieces) {
            meeting += (piece.from == end.node ? 1 : 0) + (piece.to == end.node ? 1 : 0);
        }
        const test::SlowNode& at = slow.nodes[static_cast<std::size_t>(end.node)];
        if (end.conducts && at.asset < 0 && meeting == 1) {
            result.emplace(static_cast<std::size_t>(end.cable), at.place, end.is_ambiguous);
        }
    }
    return result;
}

TEST(SnapProperties, AgreesWithASlowSecondImplementation) {
    for_random_maps(20000, [](std::uint64_t, const test::RandomMap& map) {
        const auto run = snap(test::layers_of(map));
        const test::SlowResult slow = test::slow_snap(run->layers, kSnap);
        expect_same(*run, slow);
        EXPECT_EQ(loose_ends(*run), loose_ends(slow));
    });
}

/// Everything a run says, with ids for positions.
std::vector<std::string> description(const Run& run) {
    std::vector<std::string> lines;
    const auto name = [&](NodeId id) {
        return id.is_valid() ? loopwalk::network::node_name(run.layers, node(run, id)) : "-"s;
    };
    const auto id_of = [&](loopwalk::base::CableId id) {
        return id.is_valid() ? run.layers.id_text(run.layers.cables[id.index()].id) : "-"s;
    };
    for (const Section& s : run.snapped.sections) {
        lines.push_back(id_of(s.cable) + "/" + std::to_string(s.number) + " " + name(s.from) + " " +
                        name(s.to) + " " + std::to_string(s.drawn.value()));
    }
    for (const auto& m : run.snapped.moves) {
        lines.push_back("move " + id_of(m.cable) + " " + name(m.node) + " " +
                        std::to_string(m.moved_m));
    }
    for (const auto& g : run.snapped.gaps) {
        lines.push_back("gap " + name(g.from) + " " + name(g.to) + " " + id_of(g.to_cable) + " " +
                        std::to_string(g.distance_m));
    }
    for (const auto& f : run.findings.all()) {
        lines.push_back(std::string(loopwalk::base::rule_name(f.rule)) + " " + f.asset_id + " " +
                        f.message + " " + std::to_string(f.place->x) + " " +
                        std::to_string(f.value.value_or(0)));
    }
    return lines;
}

TEST(SnapProperties, OrderAndDirectionOfFeaturesChangeNothing) {
    for_random_maps(5000, [](std::uint64_t seed, const test::RandomMap& map) {
        const auto run = snap(test::layers_of(map));
        const auto other = snap(test::layers_of(test::shuffled(map, seed)));
        EXPECT_EQ(description(*run), description(*other));
    });
}

TEST(SnapProperties, NothingMovesFurtherThanSnap) {
    for_random_maps(5000, [](std::uint64_t, const test::RandomMap& map) {
        const auto run = snap(test::layers_of(map));
        for (const auto& move : run->snapped.moves) {
            EXPECT_LE(move.moved_m, kSnap + 1e-8);
            EXPECT_NEAR(loopwalk::base::distance(move.from, move.to), move.moved_m, 1e-12);
            EXPECT_EQ(move.to, node(*run, move.node).place);
        }
    });
}

TEST(SnapProperties, TheSectionsOfACableAddUpToIt) {
    for_random_maps(5000, [](std::uint64_t, const test::RandomMap& map) {
        const auto run = snap(test::layers_of(map));
        for (std::size_t c = 0; c < run->layers.cables.size(); ++c) {
            double drawn = 0.0;
            double sum = 0.0;
            for (const auto& part : run->layers.parts_of(run->layers.cables[c])) {
                drawn += part.drawn.value();
            }
            std::uint32_t number = 0;
            for (std::uint32_t i = run->snapped.first_section[c];
                 i < run->snapped.first_section[c + 1]; ++i) {
                const Section& section = run->snapped.sections[i];
                EXPECT_EQ(section.cable.index(), c);
                EXPECT_EQ(section.number, ++number);
                EXPECT_GE(section.drawn.value(), 0.0);
                sum += section.drawn.value();
            }
            EXPECT_NEAR(sum, drawn, 1e-9 * drawn);
        }
    });
}

/// Each point of a section's line lies on the cable as drawn, or within snap of it.
TEST(SnapProperties, SectionLinesKeepToTheDrawnCable) {
    for_random_maps(5000, [](std::uint64_t, const test::RandomMap& map) {
        const auto run = snap(test::layers_of(map));
        for (const Section& section : run->snapped.sections) {
            const auto drawn = run->layers.line(run->layers.parts[section.part.index()]);
            const Polyline line =
                loopwalk::network::section_line(run->layers, run->snapped, section);
            ASSERT_GE(line.size(), 2U);
            EXPECT_EQ(line.front(), node(*run, section.from).place);
            EXPECT_EQ(line.back(), node(*run, section.to).place);
            for (const Point2 p : line) {
                EXPECT_LE(loopwalk::base::nearest_on_line(p, drawn).distance, kSnap + 1e-8);
            }
        }
    });
}

} // namespace
