// What is inserted by SQLite directly equals what GDAL's driver of GeoPackages writes of the same
// features: each value with its kind, each byte of a geometry, and the tables that tell of them.
#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/output.hpp"

#include "fixture.hpp"
#include "written_by_gdal.hpp"

namespace loopwalk::gis::test {

namespace {

/// Each row of a query as one text, with the kind of each value to be seen.
std::vector<std::string> rows_of(const std::string& path, const std::string& columns,
                                 const std::string& rest) {
    std::string quoted;
    for (const std::string& column : query(path, columns)) {
        quoted += (quoted.empty() ? "" : " || ' ' || ") + ("quote(\"" + column + "\")");
    }
    return query(path, "SELECT " + quoted + " FROM " + rest);
}

std::vector<std::string> table(const std::string& path, const std::string& name) {
    return rows_of(path,
                   "SELECT name FROM pragma_table_info('" + name + "') WHERE name <> 'last_change'",
                   name + " ORDER BY 1");
}

void copy(const std::string& from, const std::string& to) {
    Dataset dataset(from);
    std::optional<Layer> layer = dataset.find_layer("things");
    OutputDataset output(to, Overwrite::no, {from});
    LayerCopier copier = output.copy_layer(*layer, "things", {});
    while (copier.next()) {
        copier.write();
    }
    output.finish();
}

struct Rows : testing::Test {
    TempFolder folder;
    std::string theirs = folder / "theirs.gpkg";
    std::string ours = folder / "ours.gpkg";
};

} // namespace

TEST_F(Rows, EqualThoseOfGdal) {
    const WrittenByGdal written(theirs);
    copy(theirs, ours);
    const std::vector<std::string> expected = table(theirs, "things");
    ASSERT_EQ(expected.size(), 12U);
    EXPECT_EQ(table(ours, "things"), expected);
    for (const char* name : {"gpkg_contents", "gpkg_geometry_columns", "gpkg_ogr_contents",
                             "gpkg_spatial_ref_sys", "gpkg_extensions"}) {
        EXPECT_EQ(table(ours, name), table(theirs, name)) << name;
    }
    const std::string things =
        "SELECT type || name || sql FROM sqlite_master WHERE sql NOT NULL ORDER BY 1";
    EXPECT_EQ(query(ours, things), query(theirs, things));
}

TEST_F(Rows, MomentsEqualThoseOfGdal) {
    ensure_gdal();
    GDALDatasetUniquePtr dataset(GetGDALDriverManager()->GetDriverByName("GPKG")->Create(
        theirs.c_str(), 0, 0, 0, GDT_Unknown, nullptr));
    OGRLayer* made = dataset->CreateLayer("things", nullptr, wkbNone);
    OGRFieldDefn field("moment", OFTDateTime);
    made->CreateField(&field);
    for (const int zone : {0, 1, 100, 101, 104, 90, 96}) { // unknown, local, UTC, by quarters
        for (const float second : {0.0F, 5.25F, 59.999F}) {
            OGRFeature feature(made->GetLayerDefn());
            feature.SetField(0, 1999, 12, 31, 23, 59, second, zone);
            ASSERT_EQ(made->CreateFeature(&feature), OGRERR_NONE);
        }
    }
    dataset.reset();
    copy(theirs, ours);
    EXPECT_EQ(table(ours, "things"), table(theirs, "things"));
    EXPECT_EQ(value(ours, "SELECT moment FROM things WHERE fid = 14"),
              "1999-12-31T23:59:05.250+01:00");
}

// More rows than a batch holds, and an edit afterwards sets off the triggers.
TEST_F(Rows, OfManyBatchesArriveInTheirOrder) {
    constexpr std::int64_t kRows = 70001;
    OutputDataset output(ours, Overwrite::no, {});
    LayerWriter writer = output.create_layer(
        {"t", GeometryKind::none, SpatialIndex::no, {{"n", FieldKind::integer}}}, Crs());
    for (std::int64_t n = 1; n <= kRows; ++n) {
        writer.row().set(0, n * n);
        writer.write();
    }
    output.finish();
    EXPECT_EQ(value(ours, "SELECT count(*) FROM t WHERE n = fid * fid"), std::to_string(kRows));
    EXPECT_EQ(value(ours, "SELECT feature_count FROM gpkg_ogr_contents"), std::to_string(kRows));
    execute(ours, "INSERT INTO t (n) VALUES (1)");
    EXPECT_EQ(value(ours, "SELECT feature_count FROM gpkg_ogr_contents"),
              std::to_string(kRows + 1));
    EXPECT_EQ(value(ours, "SELECT max(fid) FROM t"), std::to_string(kRows + 1));
}

TEST_F(Rows, OnlyOneLayerIsWrittenAtATime) {
    OutputDataset output(ours, Overwrite::no, {});
    LayerWriter one = output.create_layer({"a", GeometryKind::none, SpatialIndex::no, {}}, Crs());
    static_cast<void>(output.create_layer({"b", GeometryKind::none, SpatialIndex::no, {}}, Crs()));
    EXPECT_THROW(one.write(), base::InternalError);
}

} // namespace loopwalk::gis::test
