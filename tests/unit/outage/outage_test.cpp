// Small streets worked by hand. Columns stand 30 m apart along a line unless said.
#include "loopwalk/outage/outage.hpp"

#include <gtest/gtest.h>

#include "support/build_layers.hpp"
#include <algorithm>
#include <set>

namespace loopwalk::outage {
namespace {

enum class Switching : std::uint8_t { by_photocells, as_recorded };

/// Columns that nothing is said of have photocells of their own.
model::Layers with_photocells(model::Layers layers, Switching switching) {
    for (model::Column& column : layers.columns) {
        const bool is_open = column.control == model::Control::unknown;
        column.control = is_open && switching == Switching::by_photocells
                             ? model::Control::own_photocell
                             : column.control;
    }
    return layers;
}

class Street {
  public:
    explicit Street(model::Layers of, Switching switching = Switching::by_photocells)
        : layers(with_photocells(std::move(of), switching)),
          m_catalogue(catalogue::parse_catalogue(catalogue::built_in_text())),
          m_assumptions(impedance::resolve_assumptions(m_job, m_catalogue)),
          m_network(network::build_network(
              layers, network::snap(layers, {}, m_findings, m_progress), m_findings)),
          m_trace(trace::trace(layers, m_network, m_progress)),
          m_figures(figures::compute_figures(
              {layers, m_catalogue, m_job, m_assumptions, m_network, m_trace}, {}, m_progress)) {}

    [[nodiscard]] Diagnosis dark(const std::vector<std::string>& out,
                                 const std::vector<std::string>& lit = {},
                                 FollowsSwitching switching = FollowsSwitching::not_told) const {
        return diagnose({layers, m_network, m_trace, m_figures, base::Metre(5.0)},
                        {ids(out), ids(lit), switching});
    }
    [[nodiscard]] std::string name(const Loss& loss) const;
    [[nodiscard]] std::set<std::string> names(const Explanation& explanation) const {
        std::set<std::string> all;
        for (const auto& losses : explanation.alternatives) {
            std::set<std::string> together;
            for (const Loss& loss : losses) {
                together.insert(name(loss));
            }
            std::string text;
            for (const std::string& one : together) {
                text += (text.empty() ? "" : " + ") + one;
            }
            all.insert(text);
        }
        return all;
    }
    [[nodiscard]] std::string first(const Explanation& explanation) const {
        return name(explanation.alternatives.front().front());
    }
    [[nodiscard]] std::set<std::string> columns(const std::vector<ColumnId>& of) const {
        std::set<std::string> all;
        for (const ColumnId id : of) {
            all.insert(layers.id_text(layers.columns[id.index()].id));
        }
        return all;
    }

    model::Layers layers;

  private:
    [[nodiscard]] std::vector<ColumnId> ids(const std::vector<std::string>& names) const {
        std::vector<ColumnId> found;
        for (const std::string& name : names) {
            const auto at = std::ranges::find_if(layers.columns, [&](const model::Column& column) {
                return layers.text.view(column.id) == name;
            });
            found.emplace_back(static_cast<std::size_t>(at - layers.columns.begin()));
        }
        return found;
    }

    config::Job m_job;
    catalogue::Catalogue m_catalogue;
    impedance::Assumptions m_assumptions;
    base::FindingList m_findings;
    base::NoProgress m_progress;
    network::Network m_network;
    trace::Trace m_trace;
    figures::Figures m_figures;
};

/// "section PA", "way P/1", "switching way P/1", "L1 way P/1".
std::string Street::name(const Loss& loss) const {
    const std::uint32_t at = loss.place.index;
    base::TextId id;
    std::string after;
    switch (loss.place.kind) {
    case PlaceKind::section:
        id = layers.cables[m_network.snapped.sections[at].cable.index()].id;
        break;
    case PlaceKind::way:
        id = layers.supplies[m_network.ways[at].supply.index()].id;
        after = "/" + layers.id_text(m_network.ways[at].name);
        break;
    case PlaceKind::supply:
    case PlaceKind::busbar:
    case PlaceKind::substation:
        id = layers.supplies[at].id;
        break;
    case PlaceKind::joint:
    case PlaceKind::fused_joint:
        id = layers.joints[at].id;
        break;
    case PlaceKind::main:
        id = layers.mains[at].id;
        break;
    case PlaceKind::tap:
    case PlaceKind::meeting:
    case PlaceKind::passed:
        break;
    case PlaceKind::lamp:
    case PlaceKind::terminals:
    case PlaceKind::cut_out:
    case PlaceKind::service:
    case PlaceKind::unrecorded:
        id = layers.columns[at].id;
        break;
    }
    const std::string scope =
        loss.scope == Scope::whole ? "" : std::string(scope_name(loss.scope)) + " ";
    return scope + std::string(place_kind_name(loss.place.kind)) +
           (id.is_valid() ? " " + layers.id_text(id) : "") + after;
}

using Names = std::set<std::string>;

/// P - A - B - C along the line, and D off B.
class Spur : public testing::Test {
  public:
    Spur() : street(make()) {}
    static model::Layers make() {
        test::LayersBuilder b;
        b.add_supply("P", 0, 0);
        b.add_column("A", 30, 0);
        b.add_column("B", 60, 0);
        b.add_column("C", 90, 0);
        b.add_column("D", 60, 30);
        b.add_cable("PA", {{0, 0}, {30, 0}}, "1");
        b.add_cable("AB", {{30, 0}, {60, 0}}, "1");
        b.add_cable("BC", {{60, 0}, {90, 0}}, "1");
        b.add_cable("BD", {{60, 0}, {60, 30}}, "1");
        return b.finish();
    }
    Street street;
};

TEST_F(Spur, OneLamp) {
    const Diagnosis d = street.dark({"C"}, {"D"});
    ASSERT_EQ(d.complete_singles, 1U);
    EXPECT_EQ(street.first(d.singles[0]), "lamp C");
    EXPECT_EQ(street.names(d.singles[0]), (Names{"lamp C", "section BC", "terminals C"}));
    EXPECT_FALSE(d.next.has_value());
}

TEST_F(Spur, DeepestCommonFeederFirstThenTheOthersUpwards) {
    const Diagnosis d = street.dark({"C", "D"});
    ASSERT_EQ(d.complete_singles, 2U);
    EXPECT_EQ(street.names(d.singles[0]), (Names{"section AB", "terminals B"}));
    EXPECT_EQ(street.columns(d.singles[0].also_out), Names{"B"});
    EXPECT_EQ(street.names(d.singles[1]),
              (Names{"section PA", "terminals A", "way P/1", "supply P"}));
    EXPECT_EQ(street.first(d.singles[1]), "way P/1");
    ASSERT_TRUE(d.next.has_value()); // A tells the two apart
    EXPECT_EQ(street.columns({d.next->column}), Names{"A"});
    EXPECT_EQ(d.next->left_if_out, 1U);
    EXPECT_EQ(d.next->left_if_lit, 1U);
}

TEST_F(Spur, PartialOnesAreRankedByWhatTheyExplainAndContradict) {
    const Diagnosis d = street.dark({"A", "C"}, {"B"}); // two lamps, or A's lamp and beyond B
    EXPECT_EQ(d.complete_singles, 0U);
    ASSERT_FALSE(d.pairs.empty());
    EXPECT_EQ(street.names(d.pairs[0]),
              (Names{"lamp A + lamp C", "lamp A + section BC", "lamp A + terminals C"}));
    const auto& first = d.singles.front();
    EXPECT_EQ(first.unexplained.size() + first.contradicted.size(), 1U);
}

/// P - A - B - C - P, both ends on one way; `open`: C's cable to P is open in C.
Street ring(model::CableEndState state) {
    test::LayersBuilder b;
    b.add_supply("P", 0, 0);
    b.add_column("A", 30, 0);
    b.add_column("B", 30, 30);
    b.add_column("C", 0, 30);
    b.add_cable("PA", {{0, 0}, {30, 0}}, "1");
    b.add_cable("AB", {{30, 0}, {30, 30}}, "1");
    b.add_cable("BC", {{30, 30}, {0, 30}}, "1");
    b.add_cable("CP", {{0, 30}, {0, 0}}, "1");
    model::Termination row{};
    row.asset_id = b.text("C");
    row.cable_id = b.text("CP");
    row.state = state;
    model::Layers layers = b.finish();
    layers.terminations.push_back(row);
    return Street(std::move(layers));
}

TEST(Ring, OneLossOfCablePutsNothingOut) {
    const Street street = ring(model::CableEndState::connected);
    const Diagnosis lamp = street.dark({"B"}, {"A", "C"});
    ASSERT_EQ(lamp.complete_singles, 1U);
    EXPECT_EQ(street.names(lamp.singles[0]), (Names{"lamp B", "terminals B"}));
    EXPECT_EQ(street.columns(std::vector<ColumnId>(lamp.assumed.fed_twice)), Names{"B"});

    const Diagnosis two = street.dark({"A", "B"}, {"C"});
    EXPECT_EQ(two.complete_singles, 0U);
    // Both lamps; or the ring is cut before A and after B: by cable PA or the terminals of A, and
    // by cable BC or the terminals of B; cut at A alone and B's lamp lost, and so on.
    Names all;
    for (const Explanation& pair : two.pairs) {
        EXPECT_TRUE(pair.is_complete());
        EXPECT_TRUE(pair.also_out.empty()); // there is no further column
        for (const std::string& name : street.names(pair)) {
            all.insert(name);
        }
    }
    EXPECT_EQ(all, (Names{"lamp A + lamp B", "lamp A + terminals B", "lamp B + terminals A",
                          "terminals A + terminals B", "section BC + section PA",
                          "section BC + terminals A", "section PA + terminals B"}));
}

TEST(Ring, OpenItIsASpur) {
    const Street street = ring(model::CableEndState::open);
    const Diagnosis d = street.dark({"B", "C"}, {"A"});
    ASSERT_EQ(d.complete_singles, 1U);
    EXPECT_EQ(street.names(d.singles[0]), (Names{"section AB", "terminals B"}));
}

/// A, B, C on a way of three phases: L1, L2 and `last`.
Street three_phases(model::Phase last) {
    test::LayersBuilder b;
    b.add_supply("P", 0, 0).phases = base::Number(3.0);
    b.add_column("A", 30, 0).phase = model::Phase::l1;
    b.add_column("B", 60, 0).phase = model::Phase::l2;
    b.add_column("C", 90, 0).phase = last;
    b.add_cable("PA", {{0, 0}, {30, 0}}, "1");
    b.add_cable("AB", {{30, 0}, {60, 0}}, "1");
    b.add_cable("BC", {{60, 0}, {90, 0}}, "1");
    return Street(b.finish());
}

TEST(ThreePhases, OnePhaseIsLost) {
    const Street street = three_phases(model::Phase::l1);
    const Diagnosis d = street.dark({"A", "C"}, {"B"});
    ASSERT_EQ(d.complete_singles, 1U);
    EXPECT_EQ(street.names(d.singles[0]),
              (Names{"L1 way P/1", "L1 section PA", "L1 terminals A", "L1 supply P"}));
    EXPECT_EQ(street.first(d.singles[0]), "L1 way P/1");
    EXPECT_TRUE(d.singles[0].relying.empty());
}

TEST(ThreePhases, AnUnknownPhaseLeavesItPossible) {
    const Street street = three_phases(model::Phase::unknown);
    const Diagnosis d = street.dark({"A", "C"}, {"B"});
    ASSERT_GE(d.complete_singles, 1U);
    EXPECT_EQ(street.first(d.singles[0]), "L1 way P/1");
    EXPECT_EQ(street.columns(d.singles[0].relying), Names{"C"});
    EXPECT_EQ(street.columns(d.assumed.phase_unknown), Names{"C"});
}

TEST(SectionPillar, ItsWaysAndItsBusbar) {
    test::LayersBuilder b;
    b.add_supply("P", 0, 0);
    b.add_supply("S", 30, 0).kind = model::SupplyKind::section_pillar;
    b.add_column("A", 60, 0);
    b.add_column("A2", 90, 0);
    b.add_column("B", 30, 30);
    b.add_cable("PS", {{0, 0}, {30, 0}}, "in");
    b.add_cable("SA", {{30, 0}, {60, 0}}, "x");
    b.add_cable("AA", {{60, 0}, {90, 0}});
    b.add_cable("SB", {{30, 0}, {30, 30}}, "y");
    const Street street(b.finish());
    const Diagnosis one = street.dark({"A", "A2"}, {"B"});
    ASSERT_GE(one.complete_singles, 1U);
    EXPECT_EQ(street.names(one.singles[0]), (Names{"way S/x", "section SA", "terminals A"}));
    EXPECT_EQ(street.first(one.singles[0]), "way S/x");
    const Diagnosis both = street.dark({"A", "B"});
    ASSERT_GE(both.complete_singles, 1U);
    EXPECT_EQ(street.names(both.singles[0]),
              (Names{"way P/in", "way S/in", "section PS", "busbar S", "supply P"}));
}

/// Services off main M at 30, 60 and 90 m; F stands beside it without a cable.
TEST(Main, ServicesAndColumnsWithoutACable) {
    test::LayersBuilder b;
    b.add_main("M", {{0, 0}, {150, 0}});
    b.add_main("N", {{0, 500}, {150, 500}});
    for (const auto& [id, x] : {std::pair("A", 30.0), std::pair("B", 60.0), std::pair("C", 90.0)}) {
        b.add_column(id, x, 10);
        b.add_cable(std::string("S") + id, {{x, 0}, {x, 10}});
    }
    b.add_column("F", 120, 3).feed = model::StatedFeed::main;
    b.add_column("G", 120, 503).feed = model::StatedFeed::main;
    const Street street(b.finish());
    const Diagnosis all = street.dark({"A", "F"});
    ASSERT_GE(all.complete_singles, 1U);
    EXPECT_EQ(street.names(all.singles[0]), Names{"main M"});
    EXPECT_EQ(street.columns(all.singles[0].also_out), (Names{"B", "C"}));
    EXPECT_EQ(street.columns(all.assumed.by_near_main), Names{"F"});
    EXPECT_EQ(street.columns(all.looked_at), (Names{"A", "B", "C", "F"}));
    const Diagnosis one = street.dark({"A"}, {"B"});
    EXPECT_EQ(street.first(one.singles[0]), "lamp A");
    EXPECT_TRUE(street.names(one.singles[0]).contains("service joint"));
}

/// A and B are switched in a group, C has a photocell of its own; they hang on one way in the order
/// A, C, B.
TEST(Switching, AGroupGoesTogether) {
    test::LayersBuilder b;
    b.add_supply("P", 0, 0);
    b.add_column("A", 30, 0).control = model::Control::group_switched;
    b.add_column("C", 60, 0).control = model::Control::own_photocell;
    b.add_column("B", 90, 0).control = model::Control::group_switched;
    b.add_cable("PA", {{0, 0}, {30, 0}}, "1");
    b.add_cable("AC", {{30, 0}, {60, 0}}, "1");
    b.add_cable("CB", {{60, 0}, {90, 0}}, "1");
    const Street street(b.finish());
    const Diagnosis d = street.dark({"A", "B"}, {"C"});
    ASSERT_EQ(d.complete_singles, 1U);
    EXPECT_EQ(street.names(d.singles[0]), (Names{"switching way P/1", "switching supply P"}));
    EXPECT_EQ(street.first(d.singles[0]), "switching way P/1");

    // Without a word of C the fuse puts out one column more; told that it follows switching, what
    // switches comes first all the same as it explains as much with less.
    const Diagnosis told = street.dark({"A", "B"}, {}, FollowsSwitching::yes);
    EXPECT_EQ(street.first(told.singles[0]), "switching way P/1");
    const Diagnosis end = street.dark({"B"}, {}, FollowsSwitching::yes);
    EXPECT_EQ(street.first(end.singles[0]), "switching way P/1"); // else B's own lamp
    EXPECT_EQ(street.first(street.dark({"B"}).singles[0]), "lamp B");
}

/// Nobody recorded how they are switched: the group is possible, and so are two lamps; what rests
/// on records comes first.
TEST(Switching, UnknownItIsPossibleAndComesAfterWhatRestsOnRecords) {
    const Street street(Spur::make(), Switching::as_recorded);
    const Diagnosis d = street.dark({"A", "D"}, {"B"});
    ASSERT_EQ(d.complete_singles, 1U);
    EXPECT_EQ(street.names(d.singles[0]), (Names{"switching way P/1", "switching supply P"}));
    EXPECT_EQ(street.columns(d.singles[0].relying), (Names{"A", "B", "D"}));
    const auto all = in_order(d, FollowsSwitching::not_told);
    ASSERT_EQ(all.size(), 2U);
    EXPECT_TRUE(street.names(*all[0]).contains("lamp A + lamp D"));
    const Diagnosis told = street.dark({"A", "D"}, {"B"}, FollowsSwitching::yes);
    EXPECT_EQ(street.first(*in_order(told, FollowsSwitching::yes)[0]), "switching way P/1");
}

/// Two pillars, a spur of two columns each.
TEST(Pairs, OneLossOnEachOfTwoWays) {
    test::LayersBuilder b;
    for (const auto& [name, y] : {std::pair("P", 0.0), std::pair("Q", 200.0)}) {
        const std::string id(name);
        b.add_supply(id, 0, y);
        b.add_column(id + "1", 30, y);
        b.add_column(id + "2", 60, y);
        b.add_cable(id + "-1", {{0, y}, {30, y}}, "1");
        b.add_cable("1-" + id + "2", {{30, y}, {60, y}}, "1");
    }
    const Street street(b.finish());
    const Diagnosis d = street.dark({"P2", "Q2"}, {"P1"});
    EXPECT_EQ(d.complete_singles, 0U);
    ASSERT_EQ(d.pairs.size(), 2U);
    EXPECT_TRUE(street.names(d.pairs[0]).contains("section 1-P2 + section 1-Q2"));
    EXPECT_EQ(street.columns(d.pairs[1].also_out), Names{"Q1"});
    ASSERT_TRUE(d.next.has_value());
    EXPECT_EQ(street.columns({d.next->column}), Names{"Q1"});
}

TEST(NotTraced, NothingButItsOwnLampAndAnUnrecordedSource) {
    test::LayersBuilder b;
    b.add_column("A", 0, 0);
    b.add_column("B", 30, 0);
    b.add_column("C", 60, 0);
    b.add_cable("AB", {{0, 0}, {30, 0}});
    b.add_cable("BC", {{30, 0}, {60, 0}});
    const Street street(b.finish());
    const Diagnosis d = street.dark({"A", "B"});
    ASSERT_EQ(d.complete_singles, 1U);
    EXPECT_EQ(street.names(d.singles[0]), Names{"unrecorded source A"});
    EXPECT_EQ(street.columns(d.singles[0].also_out), Names{"C"});
    EXPECT_EQ(street.columns(d.assumed.not_traced), (Names{"A", "B"}));
}

} // namespace
} // namespace loopwalk::outage
