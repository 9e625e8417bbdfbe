// Copied layers, looked at through SQLite: an independent reader.
#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/output.hpp"

#include "fixture.hpp"

namespace loopwalk::gis::test {

namespace {

/// Copies the only layer of a dataset as "t" with one added text field, filled with "x<fid>".
void copy(const std::string& from, const std::string& to) {
    Dataset dataset(from);
    std::optional<Layer> layer = dataset.find_layer(dataset.layer_names().front());
    OutputDataset output(to, Overwrite::no, {from});
    LayerCopier copier = output.copy_layer(*layer, "t", {{"lw_id", FieldKind::text}});
    while (copier.next()) {
        copier.row().set(0, "x" + std::to_string(copier.fid()));
        copier.write();
    }
    output.finish();
}

std::string geojson(const std::string& features) {
    return R"({"type":"FeatureCollection","features":[)" + features + "]}";
}

std::string feature(int id, const std::string& properties, const std::string& geometry) {
    return R"({"type":"Feature","id":)" + std::to_string(id) + R"(,"properties":{)" + properties +
           R"(},"geometry":)" + geometry + "}";
}

constexpr const char* kPoint = R"({"type":"Point","coordinates":[1,2]})";

struct CopyTest : testing::Test {
    TempFolder folder;
    std::string out = folder / "out.gpkg";

    void copy_text(const std::string& name, const std::string& text) {
        copy(folder.write(name, text), out);
    }
    std::vector<std::string> columns() const {
        return query(out, "SELECT name || ' ' || type FROM pragma_table_info('t')");
    }
};

} // namespace

TEST_F(CopyTest, KeepsFidsAttributesAndOrder) {
    copy_text("a.geojson", geojson(feature(7, R"("n":"a","v":1.5,"k":3)", kPoint) + "," +
                                   feature(3, R"("n":null,"v":0.1,"k":-4)", kPoint)));
    EXPECT_EQ(query(out, "SELECT fid || n || v || k || lw_id FROM t WHERE fid = 7"),
              std::vector<std::string>{"7a1.53x7"});
    EXPECT_EQ(query(out, "SELECT n FROM t WHERE fid = 3"), std::vector<std::string>{"NULL"});
    EXPECT_EQ(value(out, "SELECT v = 0.1 FROM t WHERE fid = 3"), "1");
    EXPECT_EQ(columns(), (std::vector<std::string>{"fid INTEGER", "geom POINT", "n TEXT", "v REAL",
                                                   "k MEDIUMINT", "lw_id TEXT"}));
}

TEST_F(CopyTest, RenamesAnAttributeThatIsNamedLikeTheKey) {
    copy_text("a.geojson", geojson(feature(7, R"("FID":"old","fid_original":5)", kPoint)));
    EXPECT_EQ(columns(),
              (std::vector<std::string>{"fid INTEGER", "geom POINT", "FID_original_2 TEXT",
                                        "fid_original MEDIUMINT", "lw_id TEXT"}));
    EXPECT_EQ(value(out, "SELECT fid || FID_original_2 FROM t"), "7old");
}

TEST_F(CopyTest, IntegerAttributeNamedFidKeepsItsOwnValues) {
    copy_text("a.geojson",
              geojson(feature(7, R"("fid":70)", kPoint) + "," + feature(8, R"("fid":70)", kPoint)));
    EXPECT_EQ(query(out, "SELECT fid || '/' || fid_original FROM t ORDER BY fid"),
              (std::vector<std::string>{"7/70", "8/70"}));
}

TEST_F(CopyTest, MakesNamesUniqueWithoutCase) {
    copy_text("a.geojson", geojson(feature(1, R"("A":1,"a":2,"a_2":3,"geom":4)", kPoint)));
    EXPECT_EQ(columns(),
              (std::vector<std::string>{"fid INTEGER", "geom POINT", "A MEDIUMINT", "a_3 MEDIUMINT",
                                        "a_2 MEDIUMINT", "geom_2 MEDIUMINT", "lw_id TEXT"}));
    EXPECT_EQ(value(out, "SELECT A || a_3 || a_2 || geom_2 FROM t"), "1234");
}

TEST_F(CopyTest, DropsItsOwnFieldsOfAnEarlierRun) {
    copy_text("a.geojson",
              geojson(feature(1, R"("lw_id":"old","n":1,"LW_verdict":"meets")", kPoint)));
    EXPECT_EQ(columns(),
              (std::vector<std::string>{"fid INTEGER", "geom POINT", "n MEDIUMINT", "lw_id TEXT"}));
    EXPECT_EQ(value(out, "SELECT lw_id FROM t"), "x1");
}

TEST_F(CopyTest, KeepsHeights) {
    copy_text("a.geojson", geojson(feature(1, "",
                                           R"({"type":"LineString","coordinates":)"
                                           R"([[1,2,30],[4,5,60]]})")));
    EXPECT_EQ(value(out, "SELECT geometry_type_name || z || m FROM gpkg_geometry_columns"),
              "LINESTRING10");
    // GeoPackage header of 8 bytes and an envelope (z is not part of it here or is: flags tell);
    // the well-known binary ends with the last height, 60.0 = 0x404E000000000000, little-endian.
    EXPECT_EQ(value(out, "SELECT hex(substr(geom, -8)) FROM t"), "0000000000004E40");
}

TEST_F(CopyTest, KeepsMeasuresAndCurvesAsStored) {
    copy_text("a.csv", "n,WKT\n1,\"LINESTRING M (1 2 3, 4 5 6)\"\n"
                       "2,\"CIRCULARSTRING (0 0, 1 1, 2 0)\"\n");
    // ISO well-known binary types: 2002 = line with measure, 8 = circular string.
    EXPECT_EQ(query(out, "SELECT instr(hex(geom), '01D2070000') > 0 FROM t WHERE n = 1"),
              std::vector<std::string>{"1"});
    EXPECT_EQ(query(out, "SELECT instr(hex(geom), '0108000000') > 0 FROM t WHERE n = 2"),
              std::vector<std::string>{"1"});
}

TEST_F(CopyTest, NullAndEmptyGeometriesArriveButAreNotIndexed) {
    copy_text("a.csv", "n,WKT\n1,\"POINT (1 2)\"\n2,\n3,\"POINT EMPTY\"\n4,\"POINT (3 4)\"\n");
    EXPECT_EQ(value(out, "SELECT count(*) FROM t"), "4");
    EXPECT_EQ(query(out, "SELECT id FROM rtree_t_geom ORDER BY id"),
              (std::vector<std::string>{"1", "4"}));
    EXPECT_EQ(value(out, "SELECT geom IS NULL FROM t WHERE n = 2"), "1");
}

TEST_F(CopyTest, ListsAndTimesBecomeText) {
    folder.write("a.csvt", "Time,DateTime");
    copy_text("a.csv", "at,seen\n10:11:12,2020-01-02T03:04:05Z\n");
    EXPECT_EQ(value(out, "SELECT at || ' ' || seen FROM t"), "10:11:12 2020-01-02T03:04:05.000Z");
    fs::remove(out);
    copy_text("b.geojson", geojson(feature(1, R"("l":[1,2],"s":["a","b\"c"])", kPoint)));
    EXPECT_EQ(value(out, "SELECT json_extract(l, '$[1]') || json_extract(s, '$[1]') FROM t"),
              "2b\"c");
}

TEST_F(CopyTest, MultiLinesAmongLinesWidenTheDeclaredType) {
    const std::string source = folder / "source.gpkg";
    {
        OutputDataset output(source, Overwrite::no, {});
        LayerWriter writer =
            output.create_layer({"t", GeometryKind::multi_line, SpatialIndex::no, {}}, Crs());
        static_cast<void>(writer.row());
        writer.write(std::vector<base::Polyline>{{{0, 0}, {1, 1}}, {{2, 2}, {3, 3}}});
        output.finish();
    }
    execute(source, "UPDATE gpkg_geometry_columns SET geometry_type_name = 'LINESTRING'");
    copy(source, out);
    EXPECT_EQ(value(out, "SELECT geometry_type_name FROM gpkg_geometry_columns"), "GEOMETRY");
}

// PostgreSQL cuts a name after 63 bytes; as GeoPackage allows any, a source may have a longer one.
TEST_F(CopyTest, KeyAndGeometryOfLongNamesTakeTheUsualOnes) {
    const std::string source = folder / "source.gpkg";
    {
        OutputDataset output(source, Overwrite::no, {});
        LayerWriter writer =
            output.create_layer({"t", GeometryKind::point, SpatialIndex::no, {}}, Crs());
        static_cast<void>(writer.row());
        writer.write(base::Point2{1, 2});
        output.finish();
    }
    const std::string long_name(64, 'n');
    execute(source, "ALTER TABLE t RENAME COLUMN geom TO g" + long_name);
    execute(source, "ALTER TABLE t RENAME COLUMN fid TO k" + long_name);
    execute(source, "UPDATE gpkg_geometry_columns SET column_name = 'g" + long_name + "'");
    copy(source, out);
    EXPECT_EQ(columns(), (std::vector<std::string>{"fid INTEGER", "geom POINT", "lw_id TEXT"}));
}

TEST_F(CopyTest, CoordinateSystemIsTheSource) {
    copy_text("a.geojson", geojson(feature(1, "", kPoint)));
    EXPECT_EQ(value(out, "SELECT srs_id FROM gpkg_geometry_columns"), "4326");
    Dataset again(out);
    EXPECT_EQ(again.find_layer("t")->crs().text(), "EPSG:4326");
}

TEST_F(CopyTest, UnknownCoordinateSystemStaysUnknown) {
    copy_text("a.csv", "n,WKT\n1,\"POINT (1 2)\"\n");
    const std::string second = folder / "second.gpkg";
    copy(out, second);
    Dataset again(second);
    EXPECT_TRUE(again.find_layer("t")->crs().is_unknown());
}

TEST_F(CopyTest, FilteredLayersAreCopiedFiltered) {
    const std::string path = folder.write("a.csv", "n,lw_x\n1,1\n2,2\n");
    Dataset dataset(path);
    std::optional<Layer> layer = dataset.find_layer("a");
    layer->filter("lw_x = '2'"); // by a field that is dropped
    OutputDataset output(out, Overwrite::no, {path});
    LayerCopier copier = output.copy_layer(*layer, "t", {});
    int copied = 0;
    while (copier.next()) {
        copier.write();
        ++copied;
    }
    output.finish();
    EXPECT_EQ(copied, 1);
    EXPECT_EQ(query(out, "SELECT n FROM t"), std::vector<std::string>{"2"});
}

TEST_F(CopyTest, CopyOfACopyKeepsNegativeAndLargeFids) {
    copy_text("a.geojson",
              geojson(feature(1, R"("n":1)", kPoint) + "," + feature(2, R"("n":2)", kPoint)));
    execute(out, "DROP TRIGGER rtree_t_geom_update3; DROP TRIGGER rtree_t_geom_update4;"
                 "UPDATE t SET fid = -5 WHERE n = 1;"
                 "UPDATE t SET fid = 9007199254740993 WHERE n = 2");
    const std::string second = folder / "second.gpkg";
    copy(out, second);
    EXPECT_EQ(query(second, "SELECT fid || '/' || n FROM t ORDER BY fid"),
              (std::vector<std::string>{"-5/1", "9007199254740993/2"}));
    EXPECT_EQ(query(second, "SELECT id FROM rtree_t_geom ORDER BY id"),
              (std::vector<std::string>{"-5", "9007199254740993"}));
    EXPECT_EQ(value(second, "SELECT rtreecheck('rtree_t_geom')"), "ok");
}

} // namespace loopwalk::gis::test
