// Degrees where metres are said, and metres that only look like degrees.
#include "input_fixture.hpp"

namespace loopwalk::input {
namespace {

/// A street of three columns 0.0004 apart (28 m in degrees, at 52 degrees north), and its cable.
std::vector<Feature> street_cables(double unit) {
    const auto at = [unit](int i) { return "[" + std::to_string(-1.5 + i * unit) + ",52.5]"; };
    return {{line("[" + at(0) + "," + at(1) + "]"), R"("cable_id":"K1")"},
            {line("[" + at(1) + "," + at(2) + "]"), R"("cable_id":"K2")"}};
}
std::vector<Feature> street_columns(double unit) {
    std::vector<Feature> columns;
    for (int i = 0; i < 3; ++i) {
        columns.push_back(
            {point(-1.5 + i * unit, 52.5), R"("column_id":"C)" + std::to_string(i) + "\""});
    }
    return columns;
}
constexpr double kDegrees = 0.0004;
constexpr double kMetres = 28.0;

class DegreesTest : public InputTest {
  protected:
    void street(double unit, const std::string& crs) {
        layer(AssetLayer::cables, street_cables(unit), crs);
        layer(AssetLayer::columns, street_columns(unit), crs);
    }
};

TEST_F(DegreesTest, InAMetricSystemStopTheRun) {
    street(kDegrees, "EPSG::27700");
    const std::string message = error<base::InputError>();
    expect_has(message, "look like degrees");
    expect_has(message, "EPSG:27700");
    expect_has(message, "crs = \"EPSG:4326\"");
}

TEST_F(DegreesTest, InNoSystemStopTheRun) {
    plain_columns();
    source(AssetLayer::cables).dataset =
        write("cables.csv", "cable_id,WKT\nK1,\"LINESTRING (-1.5 52.5,-1.4996 52.5)\"\n");
    expect_has(error<base::InputError>(), "no coordinate system");
}

// The job cannot declare them to be metres: a wrong word there is what is to be found.
TEST_F(DegreesTest, InAMetricSystemOfTheJobStopTheRun) {
    street(kDegrees, "OGC:1.3:CRS84");
    EXPECT_EQ(error<base::InputError>(), "");
    source(AssetLayer::cables).crs = "EPSG:27700";
    expect_has(error<base::InputError>(), "the job names EPSG:27700");
}

TEST_F(DegreesTest, OfColumnsAloneStopTheRun) {
    layer(AssetLayer::columns, street_columns(kDegrees));
    source(AssetLayer::cables).is_absent = true;
    expect_has(error<base::InputError>(), "columns");
}

// One stray record in metres does not make the others metres.
TEST_F(DegreesTest, WithAStrayOneStopTheRun) {
    std::vector<Feature> cables;
    for (int i = 0; i < 15; ++i) {
        cables.push_back(street_cables(kDegrees)[0]);
    }
    cables.push_back({line("[[400000,300000],[400030,300000]]"), R"("cable_id":"K9")"});
    layer(AssetLayer::cables, cables);
    layer(AssetLayer::columns, street_columns(kDegrees));
    expect_has(error<base::InputError>(), "look like degrees");
}

TEST_F(DegreesTest, DeclaredAsSuchAreFine) {
    street(kDegrees, "OGC:1.3:CRS84");
    EXPECT_EQ(read().layers.cables.size(), 2U);
    street(kDegrees, "EPSG::27700");
    source(AssetLayer::cables).crs = "EPSG:4326";
    source(AssetLayer::columns).crs = "EPSG:4326";
    EXPECT_EQ(read().layers.cables.size(), 2U);
}

// A small town in metres near 0,0, in a stated system or none.
TEST_F(DegreesTest, AreNotSeenInASmallPlan) {
    street(kMetres, "EPSG::27700");
    EXPECT_EQ(read().layers.cables.size(), 2U);
    source(AssetLayer::cables).dataset =
        write("cables.csv", "cable_id,WKT\nK1,\"LINESTRING (1 1,1.5 1)\"\n"); // half a metre
    EXPECT_EQ(read().layers.cables.size(), 1U);
}

// Two records of one column, a centimetre apart, are no town in degrees.
TEST_F(DegreesTest, AreNotSeenInTwoColumnsSideBySide) {
    plain_cables();
    layer(AssetLayer::columns, {{point(10.0, 10.0), R"("column_id":"C1")"},
                                {point(10.01, 10.0), R"("column_id":"C2")"}});
    EXPECT_EQ(read().layers.columns.size(), 2U);
}

} // namespace
} // namespace loopwalk::input
