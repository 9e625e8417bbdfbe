#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/crs.hpp"
#include "loopwalk/gis/dataset.hpp"
#include "loopwalk/gis/output.hpp"

#include "fixture.hpp"

namespace loopwalk::gis::test {

namespace {

constexpr const char* kTable = "id,load,height,lit,put_up\n"
                               "A1, 36.5 ,8,1,2020-02-03\n"
                               "A2,36 W,,0,\n"
                               "A3,nan,-1,1,2021-12-31\n";

struct DatasetTest : testing::Test {
    TempFolder folder;
    std::string table() const {
        folder.write("t.csvt", "String,String,Integer,Integer(Boolean),Date");
        return folder.write("t.csv", kTable);
    }
};

} // namespace

TEST_F(DatasetTest, FieldsHaveKinds) {
    Dataset dataset(table());
    const std::optional<Layer> layer = dataset.find_layer("t");
    ASSERT_TRUE(layer.has_value());
    std::vector<FieldKind> kinds;
    for (const FieldInfo& field : layer->fields()) {
        kinds.push_back(field.kind);
    }
    EXPECT_EQ(kinds, (std::vector{FieldKind::text, FieldKind::text, FieldKind::integer,
                                  FieldKind::boolean, FieldKind::date}));
    EXPECT_FALSE(layer->has_geometry());
    EXPECT_TRUE(layer->crs().is_unknown());
}

TEST_F(DatasetTest, NamesAreFoundWithoutCase) {
    Dataset dataset(table());
    EXPECT_TRUE(dataset.find_layer("T").has_value());
    EXPECT_FALSE(dataset.find_layer("u").has_value());
    const std::optional<Layer> layer = dataset.find_layer("t");
    EXPECT_EQ(layer->find_field("LOAD"), 1U);
    EXPECT_FALSE(layer->find_field("loads").has_value());
}

TEST_F(DatasetTest, TextAndNumbersOfCells) {
    Dataset dataset(table());
    std::optional<Layer> layer = dataset.find_layer("t");
    EXPECT_EQ(layer->count(), 3);
    LayerCursor cursor = layer->read({0, 1, 2, 3, 4}, Layer::WithGeometry::no);
    ASSERT_TRUE(cursor.next());
    EXPECT_EQ(cursor.text(0), "A1");
    EXPECT_EQ(cursor.number(1).state, NumberCell::State::number); // blanks around it
    EXPECT_EQ(cursor.number(1).number, 36.5);
    EXPECT_EQ(cursor.text(2), "8");
    EXPECT_EQ(cursor.number(2).number, 8.0);
    EXPECT_EQ(cursor.number(3).number, 1.0);
    EXPECT_EQ(cursor.text(4), "2020/02/03");
    ASSERT_TRUE(cursor.next());
    EXPECT_EQ(cursor.number(1).state, NumberCell::State::text);
    EXPECT_EQ(cursor.number(1).text, "36 W");
    EXPECT_EQ(cursor.text(2), std::nullopt);
    EXPECT_EQ(cursor.number(2).state, NumberCell::State::null);
    EXPECT_EQ(cursor.text(4), std::nullopt);
    ASSERT_TRUE(cursor.next());
    EXPECT_EQ(cursor.number(1).state, NumberCell::State::text); // "nan" is no number
    EXPECT_EQ(cursor.number(2).number, -1.0);
    EXPECT_FALSE(cursor.next());
}

TEST_F(DatasetTest, ReadingStartsFromTheFrontEachTime) {
    Dataset dataset(table());
    std::optional<Layer> layer = dataset.find_layer("t");
    for (int pass = 0; pass < 2; ++pass) {
        LayerCursor cursor = layer->read({0}, Layer::WithGeometry::no);
        ASSERT_TRUE(cursor.next());
        EXPECT_EQ(cursor.text(0), "A1");
    }
}

TEST_F(DatasetTest, FilterRestricts) {
    Dataset dataset(table());
    std::optional<Layer> layer = dataset.find_layer("t");
    layer->filter("height = -1"); // on a field that is then not asked for
    EXPECT_EQ(layer->count(), 1);
    LayerCursor cursor = layer->read({0}, Layer::WithGeometry::no);
    ASSERT_TRUE(cursor.next());
    EXPECT_EQ(cursor.text(0), "A3");
    EXPECT_FALSE(cursor.next());
}

TEST_F(DatasetTest, FilterThatIsNotUnderstood) {
    Dataset dataset(table());
    std::optional<Layer> layer = dataset.find_layer("t");
    const std::string message =
        message_of<base::ConfigError>([&] { layer->filter("no_such_field = 3"); });
    EXPECT_NE(message.find("no_such_field"), std::string::npos) << message;
    EXPECT_EQ(layer->count(), 3);
}

TEST_F(DatasetTest, MissingFileSaysSo) {
    const std::string message =
        message_of<base::InputError>([&] { Dataset dataset(folder / "none.gpkg"); });
    EXPECT_NE(message.find("none.gpkg"), std::string::npos) << message;
    EXPECT_NE(message.find("there is no such file"), std::string::npos) << message;
}

TEST_F(DatasetTest, WhatIsNoVectorDataSaysSo) {
    const std::string path = folder.write("note.txt", "not a map");
    const std::string message = message_of<base::InputError>([&] { Dataset dataset(path); });
    EXPECT_NE(message.find("not recognized"), std::string::npos) << message;
}

TEST_F(DatasetTest, DamagedFileIsAnErrorNotAShortLayer) {
    const std::string path =
        folder.write("cut.geojson", R"({"type":"FeatureCollection","features":[{"type":"Feature")");
    EXPECT_THROW(Dataset dataset(path), base::InputError);
}

TEST_F(DatasetTest, FilesIncludeSidecars) {
    const Dataset dataset(table());
    EXPECT_EQ(dataset.files(), (std::vector<std::string>{folder / "t.csv", folder / "t.csvt"}));
}

// Another program holds the GeoPackage open with commits that are not yet in the file itself.
TEST_F(DatasetTest, CommitsInTheWriteAheadLogAreRead) {
    const std::string path = folder / "open.gpkg";
    {
        OutputDataset output(path, Overwrite::no, {});
        LayerWriter writer = output.create_layer(
            {"t", GeometryKind::none, SpatialIndex::no, {{"n", FieldKind::text}}}, Crs());
        writer.row().set(0, std::string_view("first"));
        writer.write();
        output.finish();
    }
    sqlite3* other = nullptr;
    ASSERT_EQ(sqlite3_open(path.c_str(), &other), SQLITE_OK);
    ASSERT_EQ(sqlite3_exec(other, "PRAGMA journal_mode = WAL; INSERT INTO t (n) VALUES ('second')",
                           nullptr, nullptr, nullptr),
              SQLITE_OK);
    const std::string before = read_file(path);
    {
        Dataset dataset(path);
        EXPECT_EQ(dataset.files(), (std::vector<std::string>{path, path + "-wal"}));
        std::optional<Layer> layer = dataset.find_layer("t");
        LayerCursor cursor = layer->read({0}, Layer::WithGeometry::no);
        ASSERT_TRUE(cursor.next());
        ASSERT_TRUE(cursor.next());
        EXPECT_EQ(cursor.text(0), "second");
    }
    EXPECT_TRUE(read_file(path) == before);
    sqlite3_close(other);
}

TEST_F(DatasetTest, OpeningLeavesNothingBehind) {
    const std::string path = folder.write(
        "a.gml", R"(<c xmlns:gml="http://www.opengis.net/gml"><gml:featureMember><t fid="1">)"
                 R"(<n>1</n></t></gml:featureMember></c>)");
    {
        Dataset dataset(path);
        EXPECT_EQ(dataset.layer_names(), std::vector<std::string>{"t"});
    }
    EXPECT_EQ(folder.names(), std::vector<std::string>{"a.gml"});
}

TEST(LibraryVersions, AreNamedWithNumbers) {
    const std::vector<std::string> versions = library_versions();
    ASSERT_EQ(versions.size(), 4U);
    EXPECT_EQ(versions[0].substr(0, 6), "GDAL 3");
    EXPECT_EQ(versions[1].substr(0, 6), "GEOS 3");
    EXPECT_EQ(versions[2].substr(0, 5), "PROJ ");
    EXPECT_EQ(versions[3].substr(0, 8), "SQLite 3");
}

// Other people's odd and broken files: each is read to its end or refused, never more.
TEST(HostileFiles, AreReadOrRefused) {
    const fs::path root = fs::path(LOOPWALK_SOURCE_DIR) / "../shared/data/hostile";
    if (!fs::exists(root)) {
        GTEST_SKIP() << "no collection of broken files beside the project";
    }
    TempFolder copy; // so that a driver that writes sidecars is seen
    fs::copy(root, copy / "files", fs::copy_options::recursive);
    std::size_t refused = 0;
    std::size_t read = 0;
    for (const fs::directory_entry& entry : fs::recursive_directory_iterator(copy / "files")) {
        if (!entry.is_regular_file()) {
            continue;
        }
        try {
            Dataset dataset(entry.path().string());
            for (const std::string& name : dataset.layer_names()) {
                std::optional<Layer> layer = dataset.find_layer(name);
                ASSERT_TRUE(layer.has_value()) << entry.path() << name;
                LayerCursor cursor = layer->read({}, Layer::WithGeometry::yes);
                while (cursor.next()) {
                    for (const base::Polyline& line : cursor.geometry().lines) {
                        EXPECT_TRUE(line.empty() || line.front().x == line.front().x);
                    }
                }
            }
            ++read;
        } catch (const base::InputError&) {
            ++refused;
        }
    }
    EXPECT_EQ(read + refused, 180U);
    EXPECT_GT(read, 60U);
    EXPECT_GT(refused, 20U);
    std::size_t files = 0;
    for (const fs::directory_entry& entry : fs::recursive_directory_iterator(copy / "files")) {
        files += entry.is_regular_file() ? std::size_t{1} : std::size_t{0};
    }
    EXPECT_EQ(files, 180U);
}

} // namespace loopwalk::gis::test
