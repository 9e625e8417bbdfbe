// Geometries come from WKT in a CSV file, which GDAL reads into every kind that it knows.
#include "loopwalk/gis/dataset.hpp"

#include "fixture.hpp"
#include <cmath>

namespace loopwalk::gis::test {

namespace {

Geometry read_wkt(const std::string& wkt) {
    const TempFolder folder;
    Dataset dataset(folder.write("g.csv", "id,WKT\n1,\"" + wkt + "\"\n"));
    std::optional<Layer> layer = dataset.find_layer("g");
    LayerCursor cursor = layer->read({}, Layer::WithGeometry::yes);
    EXPECT_TRUE(cursor.next());
    return cursor.geometry();
}

} // namespace

TEST(ReadGeometry, Points) {
    EXPECT_EQ(read_wkt("POINT (3 4)").points, (std::vector<base::Point2>{{3, 4}}));
    const Geometry two = read_wkt("MULTIPOINT Z ((1 2 9), (3 4 9))");
    EXPECT_EQ(two.state, GeometryState::usable);
    EXPECT_EQ(two.points, (std::vector<base::Point2>{{1, 2}, {3, 4}}));
    EXPECT_TRUE(two.lines.empty());
    EXPECT_EQ(two.kind_name, "MULTIPOINT");
}

TEST(ReadGeometry, LinesLoseHeightAndMeasure) {
    const Geometry line = read_wkt("LINESTRING ZM (0 1 7 8, 2 3 7 8, 4 5 7 8)");
    EXPECT_EQ(line.state, GeometryState::usable);
    EXPECT_EQ(line.lines, (std::vector<base::Polyline>{{{0, 1}, {2, 3}, {4, 5}}}));
    const Geometry parts = read_wkt("MULTILINESTRING ((0 0, 1 0), (5 5, 6 5, 7 5))");
    EXPECT_EQ(parts.lines,
              (std::vector<base::Polyline>{{{0, 0}, {1, 0}}, {{5, 5}, {6, 5}, {7, 5}}}));
}

TEST(ReadGeometry, CollectionsOfOneKindAreFlattened) {
    const Geometry lines =
        read_wkt("GEOMETRYCOLLECTION (LINESTRING (0 0, 1 0), MULTILINESTRING ((2 0, 3 0)))");
    EXPECT_EQ(lines.state, GeometryState::usable);
    EXPECT_EQ(lines.lines.size(), 2U);
    EXPECT_EQ(read_wkt("GEOMETRYCOLLECTION (POINT (1 1), MULTIPOINT ((2 2)))").points.size(), 2U);
    const Geometry mixed = read_wkt("GEOMETRYCOLLECTION (POINT (1 1), LINESTRING (0 0, 1 0))");
    EXPECT_EQ(mixed.state, GeometryState::wrong_kind);
    EXPECT_TRUE(mixed.points.empty());
    EXPECT_TRUE(mixed.lines.empty());
}

TEST(ReadGeometry, CurvesBecomeLines) {
    // A half circle of radius 1: pi long; the chords that replace it are shorter by less than 1 %.
    const Geometry arc = read_wkt("CIRCULARSTRING (0 0, 1 1, 2 0)");
    ASSERT_EQ(arc.state, GeometryState::usable);
    ASSERT_EQ(arc.lines.size(), 1U);
    EXPECT_LT(base::length(arc.lines[0]), M_PI);
    EXPECT_GT(base::length(arc.lines[0]), 0.99 * M_PI);
    EXPECT_EQ(read_wkt("COMPOUNDCURVE ((0 0, 1 0), CIRCULARSTRING (1 0, 2 1, 3 0))").state,
              GeometryState::usable);
    EXPECT_EQ(read_wkt("MULTICURVE ((0 0, 1 0), CIRCULARSTRING (1 0, 2 1, 3 0))").lines.size(), 2U);
}

TEST(ReadGeometry, SurfacesAreTheWrongKind) {
    const Geometry polygon = read_wkt("POLYGON ((0 0, 1 0, 1 1, 0 0))");
    EXPECT_EQ(polygon.state, GeometryState::wrong_kind);
    EXPECT_EQ(polygon.kind_name, "POLYGON");
    EXPECT_EQ(read_wkt("TIN Z (((0 0 0, 0 1 0, 1 0 0, 0 0 0)))").state, GeometryState::wrong_kind);
    EXPECT_EQ(read_wkt("GEOMETRYCOLLECTION (POINT (1 1), POLYGON ((0 0, 1 0, 1 1, 0 0)))").state,
              GeometryState::wrong_kind);
}

TEST(ReadGeometry, NothingAndNoNumbers) {
    EXPECT_EQ(read_wkt("").state, GeometryState::none);
    EXPECT_EQ(read_wkt("LINESTRING EMPTY").state, GeometryState::empty);
    EXPECT_EQ(read_wkt("POINT EMPTY").state, GeometryState::empty);
    // Well-known binary: little-endian, type 2 (line), 2 vertices, (0 0), (NaN 1).
    EXPECT_EQ(read_wkt("010200000002000000"
                       "00000000000000000000000000000000"
                       "000000000000F87F000000000000F03F")
                  .state,
              GeometryState::not_finite);
    EXPECT_EQ(read_wkt("LINESTRING (0 0, 1e999 1)").state, GeometryState::not_finite);
    EXPECT_EQ(read_wkt("POINT (-1e999 3)").state, GeometryState::not_finite);
    EXPECT_EQ(read_wkt("CIRCULARSTRING (0 0, 1e999 1, 2 0)").state, GeometryState::not_finite);
}

TEST(ReadGeometry, ShortPartsAreKept) {
    const Geometry parts = read_wkt("MULTILINESTRING ((0 0, 1 0), (5 5))");
    ASSERT_EQ(parts.lines.size(), 2U);
    EXPECT_EQ(parts.lines[1].size(), 1U);
}

TEST(ReadGeometry, ManyFeaturesDoNotMixUp) {
    const TempFolder folder;
    Dataset dataset(folder.write("g.csv", "id,WKT\n"
                                          "1,\"MULTILINESTRING ((0 0, 1 0), (2 0, 3 0, 4 0))\"\n"
                                          "2,\"POINT (9 9)\"\n"
                                          "3,\"LINESTRING (7 7, 8 8)\"\n"
                                          "4,\n"));
    std::optional<Layer> layer = dataset.find_layer("g");
    LayerCursor cursor = layer->read({}, Layer::WithGeometry::yes);
    ASSERT_TRUE(cursor.next());
    EXPECT_EQ(cursor.geometry().lines.size(), 2U);
    ASSERT_TRUE(cursor.next());
    EXPECT_TRUE(cursor.geometry().lines.empty());
    EXPECT_EQ(cursor.geometry().points.size(), 1U);
    ASSERT_TRUE(cursor.next());
    EXPECT_TRUE(cursor.geometry().points.empty());
    EXPECT_EQ(cursor.geometry().lines, (std::vector<base::Polyline>{{{7, 7}, {8, 8}}}));
    ASSERT_TRUE(cursor.next());
    EXPECT_EQ(cursor.geometry().state, GeometryState::none);
}

} // namespace loopwalk::gis::test
