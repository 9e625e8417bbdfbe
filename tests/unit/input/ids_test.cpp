#include "input_fixture.hpp"
#include <random>

namespace loopwalk::input {
namespace {

Texts column_ids(const ReadResult& result) {
    Texts ids;
    for (const model::Column& c : result.layers.columns) {
        ids.push_back(result.layers.id_text(c.id));
    }
    return ids;
}

TEST_F(InputTest, RepeatedIdsAreRenamedButTheFirst) {
    plain_cables();
    layer(AssetLayer::columns, {{point(300, 100), R"("column_id":"C1")", 30},
                                {point(100, 100), R"("column_id":"C1")", 20},
                                {point(104, 103), R"("column_id":"C1")", 10},
                                {point(500, 100), R"("column_id":"A")", 40}});
    const ReadResult result = read();
    // The one with the smallest place keeps the id, whatever its FID or turn.
    EXPECT_EQ(column_ids(result), (Texts{"A", "C1", "fid:10", "fid:30"}));
    EXPECT_EQ(result.layers.columns[1].fid, 20);
    EXPECT_EQ(result.position_of_feature[0], (std::vector<std::uint32_t>{3, 1, 2, 0}));
    // Distances by hand: (4, 3) apart is 5 m; from (300, 100) to (104, 103) sqrt(196^2 + 3^2).
    EXPECT_EQ(brief(Rule::duplicate_id), (Texts{"columns C1 5.0000 x3", "columns fid:10 5.0000 x3",
                                                "columns fid:30 196.02 x3"}));
    expect_has(found(Rule::duplicate_id)[1].message, "'C1'");
}

TEST_F(InputTest, NullIdsAreNamedByFid) {
    plain_cables();
    layer(AssetLayer::columns, {{point(1, 1), R"("column_id":null)", 7},
                                {point(9, 9), R"("column_id":"  ")", 8},
                                {point(20, 9), R"("column_id":"fid:7")", 9}});
    const ReadResult result = read();
    EXPECT_EQ(column_ids(result), (Texts{"fid:7", "fid:7:2", "fid:8"})); // fid:7 was taken
    EXPECT_EQ(brief(Rule::bad_value), (Texts{"columns fid:7:2", "columns fid:8"}));
    expect_has(found(Rule::bad_value)[0].message, "column_id is not recorded");
    EXPECT_TRUE(found(Rule::duplicate_id).empty());
}

TEST_F(InputTest, NumericIdsAreWrittenPlainly) {
    plain_cables();
    layer(AssetLayer::columns, {{point(1, 1), R"("column_id":1000000.0)"},
                                {point(9, 9), R"("column_id":2.5)"},
                                {point(20, 20), R"("column_id":12345678901234.0)"}});
    EXPECT_EQ(column_ids(read()), (Texts{"1000000", "12345678901234", "2.5"}));
}

TEST_F(InputTest, CablesThatMeetUnderOneIdAreNoDistanceApart) {
    plain_columns();
    layer(AssetLayer::cables, {{line("[[0,0],[30,0]]"), R"("cable_id":"K")", 1},
                               {line("[[60,0],[30,0]]"), R"("cable_id":"K")", 2}});
    const ReadResult result = read();
    EXPECT_EQ(brief(Rule::duplicate_id), (Texts{"cables K 0.0000 x2", "cables fid:2 0.0000 x2"}));
    EXPECT_EQ(result.layers.line(result.layers.parts[1])[0], (base::Point2{30, 0}));
}

TEST_F(InputTest, RepeatedWaysAreRenamedWithinTheirSupply) {
    plain_cables();
    plain_columns();
    layer(AssetLayer::supplies,
          {{point(1, 1), R"("supply_id":"P1")"}, {point(9, 9), R"("supply_id":"P2")"}});
    source(AssetLayer::ways).dataset =
        write("ways.csv", "supply_id,way,circuit\nP2,1,\nP1,1,B\nP1,1,A\nP1,,C\n");
    const ReadResult result = read();
    Texts ways;
    for (const model::WayRow& w : result.layers.ways) {
        ways.push_back(result.layers.id_text(w.supply_id) + "/" + result.layers.id_text(w.way) +
                       "/" + result.layers.id_text(w.circuit));
    }
    EXPECT_EQ(ways, (Texts{"P1/1/A", "P1/fid:2/B", "P1/fid:4/C", "P2/1/"}));
    EXPECT_EQ(brief(Rule::duplicate_id), (Texts{"ways P1/1 x2", "ways P1/fid:2 x2"}));
    EXPECT_EQ(brief(Rule::bad_value), Texts{"ways P1/fid:4"});
}

TEST_F(InputTest, SamePlaceBesideAndFar) {
    layer(AssetLayer::cables, {{line("[[0,0],[30,0]]"), R"("cable_id":"K1")"},
                               {line("[[30,0],[0,0]]"), R"("cable_id":"K2")"},
                               {line("[[0,0],[30,0.001]]"), R"("cable_id":"K3")"}});
    std::vector<Feature> columns;
    for (int i = 0; i < 40; ++i) { // 10 m apart: fifty times that is below 1000 m
        columns.push_back({point(1000 + 10 * (i % 8), 1000 + 10 * (i / 8)),
                           R"("column_id":"C)" + std::to_string(i) + "\""});
    }
    columns.push_back({point(1000, 1000), R"("column_id":"SAME")"});
    columns.push_back({point(1070.9, 1041.2), R"("column_id":"BESIDE")"}); // C39 is at 1070, 1040
    columns.push_back({point(90000, 1000), R"("column_id":"FAR")"});
    columns.push_back({point(0, 0), R"("column_id":"ZERO")"});
    layer(AssetLayer::columns, columns);
    (void)read();
    EXPECT_EQ(brief(Rule::duplicate_geometry),
              (Texts{"columns C0 0.0000 x2", "columns SAME 0.0000 x2", "cables K1 0.0000 x2",
                     "cables K2 0.0000 x2"}));
    // sqrt(0.9^2 + 1.2^2) = 1.5
    EXPECT_EQ(brief(Rule::column_beside_column),
              (Texts{"columns BESIDE 1.5000", "columns C39 1.5000"}));
    EXPECT_EQ(found(Rule::column_beside_column)[0].limit, 2.0);
    const auto far = found(Rule::outlier_place);
    ASSERT_EQ(far.size(), 2U);
    EXPECT_EQ(far[0].asset_id, "FAR");
    EXPECT_EQ(far[0].limit, 1000.0);
    EXPECT_NEAR(*far[0].value, 90000.0 - 1070.9, 0.1); // to BESIDE; 0.002 % for the rise of 41 m
    EXPECT_EQ(far[1].asset_id, "ZERO");
    expect_has(far[1].message, "0,0");
}

TEST_F(InputTest, ManyColumnsInOnePlaceOrWithinAMetreTakeLittleTime) {
    plain_cables();
    std::vector<Feature> columns;
    std::mt19937 random(1);
    std::uniform_real_distribution<double> offset(0.0, 0.5);
    for (int i = 0; i < 20000; ++i) {
        columns.push_back(
            {i % 2 == 0 ? point(407, 307) : point(400.0 + offset(random), 300.0 + offset(random)),
             R"("column_id":"same")"});
    }
    layer(AssetLayer::columns, columns);
    EXPECT_EQ(read().layers.columns.size(), 20000U);
    EXPECT_EQ(found(Rule::duplicate_geometry).size(), 10000U);
    EXPECT_EQ(found(Rule::duplicate_id).size(), 20000U);
}

} // namespace
} // namespace loopwalk::input
