// Places that are wrong in ways that can be told from the numbers.
#include "input_fixture.hpp"

namespace loopwalk::input {
namespace {

class PlacesTest : public InputTest {
  protected:
    /// Forty columns along a street in the national grid, 30 m apart, some of them moved.
    void columns(const std::vector<Feature>& moved) {
        std::vector<Feature> all = moved;
        for (int i = 0; i < 40; ++i) {
            all.push_back({point(412000 + 30.0 * i, 298000 + i % 3),
                           R"("column_id":"C)" + std::to_string(100 + i) + '"'});
        }
        layer(AssetLayer::columns, all);
    }
    void cables() {
        layer(AssetLayer::cables,
              {{line("[[412000,298000],[413000,298000]]"), R"("cable_id":"K1")"},
               {line("[[412000,298040],[413000,298040]]"), R"("cable_id":"K2")"}});
    }
};

TEST_F(PlacesTest, ExchangedCoordinatesAreRecognised) {
    cables();
    columns({{point(298001, 412300), R"("column_id":"SWAPPED")"},
             {point(500000, 298000), R"("column_id":"FAR")"}});
    (void)read();
    const auto far = found(Rule::outlier_place);
    ASSERT_EQ(far.size(), 2U);
    EXPECT_EQ(far[0].asset_id, "FAR");
    EXPECT_EQ(far[0].fix, "Check the coordinates");
    EXPECT_EQ(far[1].asset_id, "SWAPPED");
    expect_has(far[1].fix, "Exchange easting and northing: at 412300, 298001 it would lie");
}

TEST_F(PlacesTest, NullIslandIsRecognisedInAnyProjection) {
    cables();
    // Longitude 0, latitude 0 in the national grid: easting 622575.7 m, northing -5527063.8 m, by
    // the projection's own formulas (Airy ellipsoid, OS "A guide to coordinate systems", annex C).
    columns({{point(622576, -5527064), R"("column_id":"NULL")"},
             {point(0, 0), R"("column_id":"ZERO")"}});
    (void)read();
    const auto far = found(Rule::outlier_place);
    ASSERT_EQ(far.size(), 2U);
    expect_has(far[0].message, "lies at longitude 0, latitude 0");
    expect_has(far[0].fix, "there are none");
    expect_has(far[1].message, "lies at 0,0 of its coordinate system");
}

// Columns of real towns lie in suburbs and along roads: nothing there is a slip.
TEST_F(PlacesTest, WhatLiesAtTheRimOrInAVillageIsNotFar) {
    cables();
    std::vector<Feature> more;
    for (int i = 1; i <= 30; ++i) { // a road out of town: 800 m from column to column
        more.push_back({point(413170.0 + 800.0 * i, 298000), // C139 is at 413170
                        R"("column_id":"R)" + std::to_string(100 + i) + '"'});
    }
    for (int i = 0; i < 4; ++i) { // a village 30 km to the south, of more than three columns
        more.push_back(
            {point(412000.0 + 30.0 * i, 268000), R"("column_id":"V)" + std::to_string(i) + '"'});
    }
    columns(more);
    (void)read();
    EXPECT_EQ(brief(Rule::outlier_place), Texts{});
}

// A column at a crossroads, with a cable of its own: two records agree on the place.
TEST_F(PlacesTest, AColumnBesideSomethingElseIsNotFar) {
    columns({{point(430000, 298000), R"("column_id":"ALONE")"}});
    layer(AssetLayer::cables, {{line("[[412000,298000],[413000,298000]]"), R"("cable_id":"K1")"}});
    (void)read();
    EXPECT_EQ(found(Rule::outlier_place).size(), 1U);
    layer(AssetLayer::cables, {{line("[[412000,298000],[413000,298000]]"), R"("cable_id":"K1")"},
                               {line("[[430010,298000],[430030,298000]]"), R"("cable_id":"K2")"}});
    (void)read();
    EXPECT_EQ(brief(Rule::outlier_place), Texts{});
}

// Each of three that lie together by themselves, with the distance to the others: 50 * 30 = 1500 m.
TEST_F(PlacesTest, AHandfulFarFromTheOthersIsFar) {
    cables();
    columns({{point(412000, 299600), R"("column_id":"A")"},
             {point(412000, 299700), R"("column_id":"B")"},
             {point(412010, 299700), R"("column_id":"B2")"},
             {point(412600, 296900), R"("column_id":"NEAR")"}}); // 1100 m from the street
    (void)read();
    const auto far = found(Rule::outlier_place);
    ASSERT_EQ(far.size(), 3U);
    EXPECT_EQ(far[0].asset_id, "A");
    EXPECT_NEAR(*far[0].limit, 1500.0, 2.0); // the street is not quite straight
    EXPECT_NEAR(*far[1].value, 1560.0, 1.0); // of A to the cable K2 at 298040
}

// More than three may be recognised where the numbers themselves tell the slip.
TEST_F(PlacesTest, AGroupWithItsAxesExchangedIsFar) {
    cables();
    std::vector<Feature> more;
    for (int i = 0; i < 4; ++i) {
        more.push_back(
            {point(298000.0, 412100.0 + 30.0 * i), R"("column_id":"X)" + std::to_string(i) + '"'});
    }
    for (int i = 0; i < 60; ++i) { // the four are to be a twentieth at most
        more.push_back({point(412000 + 15.0 * i, 298020),
                        R"("column_id":"D)" + std::to_string(100 + i) + '"'});
    }
    columns(more);
    (void)read();
    EXPECT_EQ(found(Rule::outlier_place).size(), 4U);
}

// Two places are too few to tell degrees by themselves (degrees_test.cpp), but not beside cables.
TEST_F(PlacesTest, ALayerInAnotherSystemIsOneFindingWithItsCure) {
    cables();
    layer(AssetLayer::columns, {});
    layer(AssetLayer::supplies, // degrees in a file that states the national grid
          {{point(-1.8236, 52.5795), R"("supply_id":"P1")"},
           {point(-1.8232, 52.5795), R"("supply_id":"P2")"}});
    (void)read();
    const auto far = found(Rule::outlier_place);
    ASSERT_EQ(far.size(), 1U);
    EXPECT_EQ(far[0].count, 2);
    expect_has(far[0].message, "Most of the layer supplies lies far from the layer cables");
    expect_has(far[0].fix, "Its numbers are those of EPSG:4326");
    expect_has(far[0].fix, "[supplies] crs = \"EPSG:4326\"");
}

TEST_F(PlacesTest, ALayerWithItsAxesExchangedIsOneFinding) {
    cables();
    std::vector<Feature> all;
    for (int i = 0; i < 40; ++i) {
        all.push_back({point(298000 + i % 3, 412000 + 30.0 * i),
                       R"("column_id":"C)" + std::to_string(100 + i) + '"'});
    }
    layer(AssetLayer::columns, all);
    (void)read();
    const auto far = found(Rule::outlier_place);
    ASSERT_EQ(far.size(), 1U);
    expect_has(far[0].fix, "exchanged in the whole layer");
}

TEST_F(PlacesTest, ALayerInTheCablesSystemUnderAnotherNameIsRecognised) {
    cables();
    std::vector<Feature> all;
    for (int i = 0; i < 40; ++i) {
        all.push_back({point(412000 + 30.0 * i, 298000),
                       R"("column_id":"C)" + std::to_string(100 + i) + '"'});
    }
    layer(AssetLayer::columns, all, "EPSG::2157"); // Irish grid stated
    (void)read();
    const auto far = found(Rule::outlier_place);
    ASSERT_EQ(far.size(), 1U);
    expect_has(far[0].fix, "[columns] crs = \"EPSG:27700\"");
}

TEST_F(PlacesTest, ACatalogueWordIsSuggestedForTypesThatAreNot) {
    columns({});
    layer(AssetLayer::cables,
          {{line("[[412000,298000],[413000,298000]]"), R"("cable_id":"K1","cable_type":"6mm SWA")"},
           {line("[[412000,298040],[413000,298040]]"), R"("cable_id":"K2","cable_type":"odd")"}});
    (void)read();
    const auto types = found(Rule::type_unknown);
    ASSERT_EQ(types.size(), 2U);
    expect_has(types[0].fix, "under `values` what it stands for, if it is one of these: SWA 6");
    expect_has(types[1].fix, "no size is said");
}

TEST_F(PlacesTest, IdsThatAreWrittenAlmostAlikeAreNamed) {
    cables();
    columns({});
    source(AssetLayer::loads).dataset =
        write("loads.csv", "column_id,load_w\nc-0101,1\n\"C 102\",2\nC1O1,3\n");
    (void)read();
    const auto bad = found(Rule::bad_value);
    ASSERT_EQ(bad.size(), 3U);
    expect_has(bad[0].message, "'C 102', which no asset is called (there is 'C102')");
    expect_has(bad[1].message, "'C1O1', which no asset is called; it counts");
    expect_has(bad[2].message, "'c-0101', which no asset is called (there is 'C101')");
}

TEST_F(PlacesTest, RatiosOfLengthsTellTheSlip) {
    columns({});
    // Drawn 1000 m; the ground differs by less than 0.1 %. 3300 ft is 1005.8 m.
    layer(AssetLayer::cables,
          {{line("[[412000,298000],[413000,298000]]"), R"("cable_id":"FEET","length_m":3300)"},
           {line("[[412000,298040],[413000,298040]]"), R"("cable_id":"KM","length_m":1.02)"},
           {line("[[412000,298080],[413000,298080]]"), R"("cable_id":"ODD","length_m":5000)"}});
    (void)read();
    const auto lengths = found(Rule::length_differs);
    ASSERT_EQ(lengths.size(), 3U);
    expect_has(lengths[0].fix, "is it in feet?");
    expect_has(lengths[1].fix, "is it in kilometres?");
    expect_has(lengths[2].fix, "Check the recorded length, its unit");
}

} // namespace
} // namespace loopwalk::input
