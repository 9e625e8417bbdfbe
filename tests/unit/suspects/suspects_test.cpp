// A street of four columns whose cables hold what the records say of them, but for what is planted.
#include "loopwalk/suspects/suspects.hpp"

#include <gtest/gtest.h>

#include "support/build_layers.hpp"
#include <memory>

namespace loopwalk::suspects {
namespace {

/// P - A - B - C - D, 30 m each, on one way; readings by high-current meter at cut-outs.
class Street {
  public:
    struct Read {
        std::string column;
        double above; ///< the prediction, ohm
    };
    explicit Street(const std::vector<Read>& readings)
        : m_catalogue(catalogue::parse_catalogue(catalogue::built_in_text())) {
        const Predicted predicted(records(m_catalogue), m_catalogue);
        m_layers = records(m_catalogue);
        for (const Read& read : readings) {
            model::Reading row{};
            row.asset_id = m_layers.text.add(read.column);
            row.taken_at = model::TakenAt::cut_out;
            row.method = model::TestMethod::high_current;
            row.zs = base::Ohm(predicted.middle(read.column) + read.above);
            m_layers.readings.push_back(row);
        }
        m_run = std::make_unique<Predicted>(m_layers, m_catalogue);
        m_judge = std::make_unique<protection::Judge>(m_run->inputs(), m_run->figures);
        m_ends = std::make_unique<ends::CableEnds>(m_layers, m_run->network, m_run->trace,
                                                   m_run->figures);
        m_input = std::make_unique<checks::ReviewInput>(
            checks::ReviewInput{m_layers, m_catalogue, m_run->job.rules, m_run->network,
                                m_run->trace, m_run->figures, m_run->assumptions, *m_ends});
        found = find(*m_input, *m_judge);
    }
    [[nodiscard]] std::string text(std::size_t at) const { return text_of(*m_input, found[at]); }
    [[nodiscard]] std::string next() const {
        const base::ColumnId id = found.front().next_reading;
        return id.is_valid() ? m_layers.id_text(m_layers.columns[id.index()].id) : "none";
    }
    [[nodiscard]] base::FindingList& findings() {
        report(*m_input, found, m_findings);
        return m_findings;
    }

    std::vector<Suspect> found;

  private:
    static model::Layers records(const catalogue::Catalogue& tables) {
        test::LayersBuilder b;
        model::Supply& supply = b.add_supply("P", 0, 0);
        supply.ze = base::Ohm(0.35);
        supply.earthing = model::Earthing::tn_s;
        double x = 0.0;
        std::string before = "P";
        for (const std::string id : {"A", "B", "C", "D"}) {
            b.add_column(id, x + 30.0, 0);
            model::Cable& cable = b.add_cable(before + id, {{x, 0}, {x + 30.0, 0}}, "1");
            cable.type.type = *tables.find_cable("SWA XLPE Cu 2x6");
            cable.laid = base::Metre(30.0);
            before = id;
            x += 30.0;
        }
        return b.finish();
    }

    struct Predicted {
        Predicted(const model::Layers& of, const catalogue::Catalogue& tables)
            : layers(of), catalogue(tables),
              assumptions(impedance::resolve_assumptions(job, tables)),
              network(network::build_network(layers, network::snap(layers, {}, unused, progress),
                                             unused)),
              trace(trace::trace(layers, network, progress)),
              figures(figures::compute_figures(inputs(), {}, progress)) {}
        [[nodiscard]] figures::Inputs inputs() const {
            return {layers, catalogue, job, assumptions, network, trace};
        }
        [[nodiscard]] double middle(const std::string& column) const {
            for (std::size_t c = 0; c < layers.columns.size(); ++c) {
                if (layers.text.view(layers.columns[c].id) == column) {
                    const auto& f = figures.columns[c];
                    return ((*f.z20_low).value() + (*f.z20_high).value()) / 2.0;
                }
            }
            return 0.0;
        }
        model::Layers layers;
        const catalogue::Catalogue& catalogue;
        config::Job job;
        impedance::Assumptions assumptions;
        base::FindingList unused;
        base::NoProgress progress;
        network::Network network;
        trace::Trace trace;
        figures::Figures figures;
    };

    catalogue::Catalogue m_catalogue;
    model::Layers m_layers;
    std::unique_ptr<Predicted> m_run;
    std::unique_ptr<protection::Judge> m_judge;
    std::unique_ptr<ends::CableEnds> m_ends;
    std::unique_ptr<checks::ReviewInput> m_input;
    base::FindingList m_findings;
};

TEST(Suspects, TheSectionsBetweenTheLastGoodAndTheFirstBadReading) {
    Street street({{"A", 0.0}, {"C", 3.0}, {"D", 3.0}});
    ASSERT_FALSE(street.found.empty());
    const Suspect& first = street.found.front();
    EXPECT_EQ(first.rank, 1U);
    EXPECT_EQ(street.text(0), "cable AB from A to B with its ends; or cable BC from B to C with "
                              "its ends");
    EXPECT_EQ(first.readings, 2U);
    EXPECT_NEAR(first.explanation.extra.value(), 3.0, 1e-6);
    EXPECT_LT(first.explanation.low.value(), 3.0);
    EXPECT_GT(first.explanation.high.value(), 3.0);
    EXPECT_EQ(street.next(), "B"); // the only column left, and it halves the suspect

    const auto& findings = street.findings().all();
    ASSERT_EQ(findings.size(), 1U);
    EXPECT_EQ(findings[0].asset_id, "AB");
    EXPECT_EQ(findings[0].supply_id, "P");
}

TEST(Suspects, OneHighReadingBetweenGoodOnesIsInsideThatColumn) {
    const Street street({{"A", 0.0}, {"B", 4.0}, {"C", 0.0}});
    ASSERT_FALSE(street.found.empty());
    EXPECT_EQ(street.text(0), "cut-out or tail of column B");
    EXPECT_EQ(street.found.front().readings, 1U);
}

TEST(Suspects, OneReadingAloneIsNoFindingButAsksForTheMiddle) {
    Street street({{"D", 3.0}});
    ASSERT_EQ(street.found.size(), 1U);
    EXPECT_EQ(street.found[0].places.size(), 5U); // four sections, and inside D
    // Beyond B lie two of five places, beyond C three: no other split is nearer to one half.
    EXPECT_TRUE(street.next() == "B" || street.next() == "C") << street.next();
    EXPECT_TRUE(street.findings().all().empty());
}

TEST(Suspects, NoneWhereNoReadingIsAboveItsErrorAndBounds) {
    // Error of a high-current test: 5 % and 0.05 ohm, so that 0.04 more says nothing.
    EXPECT_TRUE(Street({{"A", 0.0}, {"C", 0.04}, {"D", 0.04}}).found.empty());
    EXPECT_TRUE(Street({{"A", -0.2}, {"C", -0.2}}).found.empty());
    EXPECT_TRUE(Street({}).found.empty());
}

} // namespace
} // namespace loopwalk::suspects
