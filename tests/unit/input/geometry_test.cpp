#include "input_fixture.hpp"
#include <cmath>
#include <numbers>

namespace loopwalk::input {
namespace {

using base::Metre;
using base::Point2;
using base::Polyline;

Polyline line_of(const model::Layers& layers, std::size_t part) {
    const auto line = layers.line(layers.parts[part]);
    return {line.begin(), line.end()};
}

TEST_F(InputTest, LinesRunFromTheSmallerEndWithoutRepeatedVertices) {
    plain_columns();
    layer(AssetLayer::cables,
          {{line("[[130,100],[130,100],[110,90],[100,100],[100,100]]"), R"("cable_id":"K1")"}});
    const ReadResult result = read();
    EXPECT_EQ(line_of(result.layers, 0), (Polyline{{100, 100}, {110, 90}, {130, 100}}));
    // Legs (10, 10) and (20, 10): sqrt(200) + sqrt(500).
    EXPECT_NEAR(result.layers.parts[0].planar.value(), std::sqrt(200.0) + std::sqrt(500.0), 1e-9);
    EXPECT_TRUE(found(Rule::zero_length).empty());
}

TEST_F(InputTest, ClosedLinesRunTowardsTheSmallerSecondVertex) {
    plain_columns();
    layer(AssetLayer::cables, {{line("[[0,0],[0,50],[50,50],[50,0],[0,0]]"), R"("cable_id":"A")"},
                               {line("[[0,0],[50,0],[50,50],[0,50],[0,0]]"), R"("cable_id":"B")"}});
    const ReadResult result = read();
    const Polyline expected{{0, 0}, {0, 50}, {50, 50}, {50, 0}, {0, 0}};
    EXPECT_EQ(line_of(result.layers, 0), expected);
    EXPECT_EQ(line_of(result.layers, 1), expected);
    EXPECT_EQ(brief(Rule::duplicate_geometry), (Texts{"cables A 0.0000 x2", "cables B 0.0000 x2"}));
}

TEST_F(InputTest, PartsAreSortedAndThoseWithoutLengthLeftOut) {
    plain_columns();
    layer(
        AssetLayer::cables,
        {{R"({"type":"MultiLineString","coordinates":[[[50,0],[70,0]],[[5,5],[5,5]],[[20,0],[0,0]]]})",
          R"("cable_id":"K1")"},
         {line("[[5,5],[5,5]]"), R"("cable_id":"K2")"}});
    const ReadResult result = read();
    ASSERT_EQ(result.layers.cables[0].part_count, 2U);
    EXPECT_EQ(line_of(result.layers, 0), (Polyline{{0, 0}, {20, 0}}));
    EXPECT_EQ(line_of(result.layers, 1), (Polyline{{50, 0}, {70, 0}}));
    EXPECT_EQ(result.layers.cables[1].part_count, 0U);
    EXPECT_EQ(result.layers.parts[1].cable, base::CableId(0));
    EXPECT_EQ(brief(Rule::zero_length), (Texts{"cables K1 0.0000 x1", "cables K2 0.0000 x1"}));
}

TEST_F(InputTest, UnusableGeometryIsAFindingAndTheFeatureStays) {
    layer(AssetLayer::cables, {{"null", R"("cable_id":"K1")"},
                               {point(1, 1), R"("cable_id":"K2")"},
                               {line("[]"), R"("cable_id":"K3")"},
                               {line("[[0,0],[9,9]]"), R"("cable_id":"K4")"}});
    layer(
        AssetLayer::columns,
        {{"null", R"("column_id":"C1")"},
         {line("[[1,1],[2,2]]"), R"("column_id":"C2")"},
         {R"({"type":"Polygon","coordinates":[[[0,0],[1,0],[1,1],[0,0]]]})", R"("column_id":"C3")"},
         {R"({"type":"MultiPoint","coordinates":[[3,3],[4,4]]})", R"("column_id":"C4")"},
         {R"({"type":"MultiPoint","coordinates":[[3,3]]})", R"("column_id":"C5")"}});
    const ReadResult result = read();
    EXPECT_EQ(brief(Rule::bad_geometry),
              (Texts{"columns C1", "columns C2", "columns C3", "columns C4", "cables K1",
                     "cables K2", "cables K3"}));
    ASSERT_EQ(result.layers.columns.size(), 5U);
    EXPECT_FALSE(result.layers.columns[0].has_place);
    EXPECT_EQ(result.layers.columns[4].place, (Point2{3, 3}));
    ASSERT_EQ(result.layers.cables.size(), 4U);
    EXPECT_EQ(result.layers.cables[0].part_count, 0U);
    EXPECT_EQ(result.layers.cables[3].part_count, 1U);
}

TEST_F(InputTest, NotFiniteCoordinatesAreBadGeometry) {
    source(AssetLayer::columns).dataset =
        write("columns.csv", "column_id,WKT\nC1,POINT (nan 1)\nC2,POINT (2 2)\nC3,POINT (inf 3)\n");
    source(AssetLayer::cables).dataset =
        write("cables.csv", "cable_id,WKT\nK1,\"LINESTRING (0 0,nan nan)\"\n"
                            "K2,\"LINESTRING (0 0,5 5)\"\n");
    const ReadResult result = read();
    EXPECT_EQ(brief(Rule::bad_geometry), (Texts{"columns C1", "columns C3", "cables K1"}));
    EXPECT_TRUE(result.layers.columns[1].has_place);
}

TEST_F(InputTest, HeightsMeasuresAndCurvesAreReducedToThePlane) {
    source(AssetLayer::columns).dataset =
        write("columns.csv", "column_id,WKT\nC1,POINT Z (1 2 30)\nC2,POINT M (3 4 5)\n");
    source(AssetLayer::cables).dataset =
        write("cables.csv", "cable_id,WKT\nK1,\"LINESTRING Z (0 0 0,30 40 900)\"\n"
                            "K2,\"CIRCULARSTRING (100 0,110 10,120 0)\"\n");
    const ReadResult result = read();
    EXPECT_EQ(result.layers.columns[0].place, (Point2{1, 2}));
    EXPECT_EQ(result.layers.columns[1].place, (Point2{3, 4}));
    EXPECT_NEAR(result.layers.parts[0].drawn.value(), 50.0, 1e-9); // 3-4-5 triangle
    // Half a circle of radius 10 m, by chords: a little short of 10 pi.
    EXPECT_NEAR(result.layers.parts[1].drawn.value(), 10.0 * std::numbers::pi, 0.02);
    EXPECT_TRUE(found(Rule::bad_geometry).empty());
}

TEST_F(InputTest, EachLayerComesFromItsOwnSystem) {
    // "A guide to coordinate systems in Great Britain" (Ordnance Survey), annex C: latitude
    // 52 39 27.2531 N, longitude 1 43 4.5177 E of OSGB36 is 651409.903 E, 313177.270 N.
    const double latitude = 52.0 + 39.0 / 60.0 + 27.2531 / 3600.0;
    const double longitude = 1.0 + 43.0 / 60.0 + 4.5177 / 3600.0;
    std::string place = R"({"type":"Point","coordinates":[)";
    place += std::to_string(longitude) + "00," + std::to_string(latitude) + "00]}";
    layer(AssetLayer::columns, {{place, R"("column_id":"C1")"}}, "EPSG::4277");
    layer(AssetLayer::cables, {{line("[[651409,313177],[651500,313177]]"), R"("cable_id":"K1")"}});
    const ReadResult result = read();
    EXPECT_EQ(result.working.text(), "EPSG:27700");
    EXPECT_NEAR(result.layers.columns[0].place.x, 651409.903, 0.06); // 6 decimals of a degree
    EXPECT_NEAR(result.layers.columns[0].place.y, 313177.270, 0.06);
}

TEST_F(InputTest, DegreesEndInMetres) {
    // On the equator of WGS 84 (a = 6378137 m) 0.001 degrees of longitude are a*pi/180000.
    layer(AssetLayer::cables, {{line("[[3.0,0.0],[3.001,0.0]]"), R"("cable_id":"K1")"}},
          "OGC:1.3:CRS84");
    layer(AssetLayer::columns, {{point(3.0, 0.0), R"("column_id":"C1")"}}, "OGC:1.3:CRS84");
    const ReadResult result = read();
    const double expected = 6378137.0 * std::numbers::pi / 180000.0; // 111.319 m
    EXPECT_NEAR(result.layers.parts[0].drawn.value(), expected, 1e-6);
    EXPECT_NEAR(result.layers.parts[0].planar.value(), expected, 0.0005 * expected); // UTM scale
    EXPECT_FALSE(result.working.is_geographic());
    // 3 degrees is the middle of UTM zone 31.
    EXPECT_NEAR(result.layers.columns[0].place.x, 500000.0, 0.01);
    EXPECT_NEAR(result.layers.columns[0].place.y, 0.0, 0.01);
    ASSERT_EQ(result.assumptions.size(), 1U);
    expect_has(result.assumptions[0], "Distances are taken in EPSG:32631");
}

TEST_F(InputTest, OneFarCableDoesNotChooseTheSystem) {
    std::vector<Feature> cables;
    for (int i = 0; i < 100; ++i) {
        cables.push_back({line("[[-1.5,52." + std::to_string(100 + i) + "],[-1.501,52.1]]"),
                          R"("cable_id":"K)" + std::to_string(i) + "\""});
    }
    cables.push_back({line("[[178.5,52.1],[178.6,52.1]]"), R"("cable_id":"FAR")"});
    layer(AssetLayer::cables, cables, "OGC:1.3:CRS84");
    layer(AssetLayer::columns, {{point(-1.5, 52.1), R"("column_id":"C1")"}}, "OGC:1.3:CRS84");
    EXPECT_EQ(read().working.text(), "EPSG:32630");
}

TEST_F(InputTest, FeetEndInMetres) {
    // EPSG:2263 is in US survey feet: 1000 ft = 1000 * 1200/3937 m = 304.8006 m on the grid; its
    // scale factor is within 0.01 % of 1 here.
    layer(AssetLayer::cables, {{line("[[980000,200000],[981000,200000]]"), R"("cable_id":"K1")"}},
          "EPSG::2263");
    layer(AssetLayer::columns, {{point(980000, 200000), R"("column_id":"C1")"}}, "EPSG::2263");
    const ReadResult result = read();
    EXPECT_NEAR(result.layers.parts[0].drawn.value(), 304.8006, 0.05);
    EXPECT_NEAR(result.layers.parts[0].planar.value(), 304.8006, 0.2);
    EXPECT_EQ(result.working.metres_per_unit(), 1.0);
}

TEST_F(InputTest, UnknownSystemsAreAssumptionsInWords) {
    source(AssetLayer::columns).dataset =
        write("columns.csv", "column_id,WKT\nC1,POINT (100 100)\n");
    plain_cables();
    ReadResult result = read();
    ASSERT_EQ(result.assumptions.size(), 1U);
    expect_has(result.assumptions[0], "The layer columns states no coordinate system");
    expect_has(result.assumptions[0], "EPSG:27700");

    plain_columns();
    source(AssetLayer::cables).dataset =
        write("cables.csv", "cable_id,WKT\nK1,\"LINESTRING (100 100,130 140)\"\n");
    result = read();
    EXPECT_TRUE(result.working.is_unknown());
    ASSERT_EQ(result.assumptions.size(), 2U);
    expect_has(result.assumptions[0], "taken as metres in a plane");
    EXPECT_EQ(result.layers.columns[0].place, (Point2{100, 100}));
    EXPECT_EQ(result.layers.parts[0].drawn, Metre(50.0));

    m_job.network.crs = "EPSG:27700";
    result = read();
    EXPECT_EQ(result.working.text(), "EPSG:27700");
    EXPECT_EQ(result.cables.text(), "EPSG:27700");
    expect_has(result.assumptions[0], "EPSG:27700");
}

TEST_F(InputTest, WorkingSystemMustBeInMetres) {
    plain_cables();
    plain_columns();
    m_job.network.crs = "EPSG:4326";
    expect_has(error<base::ConfigError>(), "[network] crs");
    m_job.network.crs = "no such system";
    EXPECT_THROW(read(), base::ConfigError);
}

TEST_F(InputTest, PointThatCannotBeTransformedIsBadGeometry) {
    layer(AssetLayer::columns,
          {{point(-1.5, 52.0), R"("column_id":"C1")"}, {point(500, 5000), R"("column_id":"C2")"}},
          "OGC:1.3:CRS84");
    plain_cables();
    const ReadResult result = read();
    EXPECT_TRUE(result.layers.columns[0].has_place);
    EXPECT_EQ(brief(Rule::bad_geometry), Texts{"columns C2"});
}

} // namespace
} // namespace loopwalk::input
