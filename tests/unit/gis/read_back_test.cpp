// Two readers that share no code have to agree: GDAL's driver writes features and digest_of() looks
// at them, contents_of() reads the file by SQLite.
#include "loopwalk/base/error.hpp"

#include "../../../src/gis/finish_output.hpp"
#include "../../../src/gis/sqlite_value.hpp"
#include "fixture.hpp"
#include "written_by_gdal.hpp"

namespace loopwalk::gis::test {

namespace {

struct ReadBack : testing::Test {
    TempFolder folder;
    std::string path = folder / "out.gpkg";
    WrittenByGdal written{path};

    [[nodiscard]] TableContents contents() const {
        SqliteConnection database(path, SqliteMode::read_only);
        return contents_of(database, written.layer);
    }
    [[nodiscard]] std::string header() const {
        SqliteConnection database(path, SqliteMode::read_only);
        SqliteStatement row(database, header_query());
        return row.next() ? std::string(SqliteValue(row.value(0)).bytes()) : std::string();
    }
    /// Alters a row, as a fault of the disk would, and puts it back; false where nothing differs.
    [[nodiscard]] bool is_seen(const std::string& change, const std::string& undo) const {
        execute(path, kQuick + kNoTriggers + change);
        const bool seen = contents().digest != written.layer.digest;
        execute(path, kQuick + undo);
        EXPECT_EQ(contents().digest, written.layer.digest) << undo;
        return seen;
    }
    const std::string kQuick = "PRAGMA synchronous = OFF; PRAGMA journal_mode = MEMORY;";
    // They call functions that only GDAL brings.
    const std::string kNoTriggers = "DROP TRIGGER IF EXISTS rtree_things_geom_update1;"
                                    "DROP TRIGGER IF EXISTS rtree_things_geom_update2;"
                                    "DROP TRIGGER IF EXISTS rtree_things_geom_update3;"
                                    "DROP TRIGGER IF EXISTS rtree_things_geom_update4;";
};

} // namespace

TEST_F(ReadBack, EqualsWhatWasWritten) {
    const TableContents found = contents();
    EXPECT_EQ(found.columns, written.layer.columns);
    EXPECT_EQ(found.rows, 12);
    EXPECT_EQ(found.digest, written.layer.digest);
    EXPECT_EQ(header(), written.header);
    EXPECT_NE(written.header.find("British National Grid"), std::string::npos);
}

TEST_F(ReadBack, SeesEachValueThatDiffers) {
    for (const char* set :
         {"fid = 100 WHERE fid = -14", "small = 1 WHERE fid = 0", "large = large + 1 WHERE fid = 7",
          "number = number + 1e-9 WHERE fid = 14", "number = NULL WHERE fid = 14",
          "words = words || 'y' WHERE fid = 35", "words = 'y' || substr(words, 2) WHERE fid = 35",
          "words = NULL WHERE fid = -14", "words = CAST(words AS BLOB) WHERE fid = 35",
          "day = '2026-02-01' WHERE fid = 7", "day = 'soon' WHERE fid = 7",
          "moment = '1999-12-31T23:59:59.251Z' WHERE fid = 0", "block = x'00' WHERE fid = 28",
          "block = CAST(block AS TEXT) WHERE fid = 28", "geom = NULL WHERE fid = 0",
          "small = 'one' WHERE fid = 0", "number = 'much' WHERE fid = 14"}) {
        const std::string change(set);
        const std::string column = change.substr(0, change.find(' '));
        const std::string fid = change.substr(change.rfind(' ') + 1);
        execute(path, "CREATE TABLE kept AS SELECT " + column + " FROM things WHERE fid = " + fid);
        EXPECT_TRUE(is_seen("UPDATE things SET " + change,
                            "UPDATE things SET " + column + " = (SELECT " + column +
                                " FROM kept) WHERE fid = " + (column == "fid" ? "100" : fid) +
                                "; DROP TABLE kept"))
            << set;
    }
    execute(path, "DELETE FROM rtree_things_geom; DROP TRIGGER IF EXISTS rtree_things_geom_delete;"
                  "DELETE FROM things WHERE fid = 0");
    EXPECT_EQ(contents().rows, 11);
}

TEST_F(ReadBack, SeesEachBitOfAGeometryThatDiffers) {
    for (const char* fid : {"-14", "7", "21", "42"}) { // point, empty, line, heights
        const std::string hex =
            value(path, std::string("SELECT hex(geom) FROM things WHERE fid = ") + fid);
        const auto shape = [fid](const std::string& bytes) {
            return "UPDATE things SET geom = x'" + bytes + "' WHERE fid = " + fid;
        };
        for (std::size_t at = 0; at < hex.size(); ++at) {
            const auto is_digit = [&] { return hex[at] <= '9'; };
            std::string other = hex;
            other[at] = is_digit() ? char('0' + ((hex[at] - '0') ^ 1))
                                   : (hex[at] == 'F' ? 'E' : char(hex[at] + 1));
            EXPECT_TRUE(is_seen(shape(other), shape(hex)))
                << "feature " << fid << ", half byte " << at << " of " << hex;
        }
        EXPECT_TRUE(is_seen(shape(hex.substr(0, hex.size() - 2)), shape(hex)));
    }
}

TEST_F(ReadBack, SeesColumnsThatDiffer) {
    execute(path, "ALTER TABLE things RENAME COLUMN words TO word");
    EXPECT_NE(contents().columns, written.layer.columns);
    EXPECT_EQ(contents().rows, 0);
    EXPECT_NE(header(), written.header);
}

TEST_F(ReadBack, SeesASystemThatDiffers) {
    for (const char* change :
         {"UPDATE gpkg_spatial_ref_sys SET definition = definition || ' ' WHERE srs_id = 27700",
          "UPDATE gpkg_contents SET srs_id = 4326", "UPDATE gpkg_geometry_columns SET z = 1",
          "UPDATE gpkg_contents SET data_type = 'attributes'"}) {
        const std::string whole = read_file(path);
        execute(path, change);
        EXPECT_NE(header(), written.header) << change;
        std::ofstream(path, std::ios::binary) << whole;
        EXPECT_EQ(header(), written.header);
    }
}

// As GDAL writes it where it could not look the system up: everywhere alike.
TEST_F(ReadBack, SeesASystemThatWasNotWritten) {
    OutputLayers layers;
    layers.push_back(std::make_unique<OutputLayer>(std::move(written.layer)));
    layers.front()->index = SpatialIndex::no;
    layers.front()->system = "EPSG:27700";
    EXPECT_NO_THROW(verify_output(path, layers, header()));
    for (const char* other : {"0", "4326"}) {
        execute(path, std::string("UPDATE gpkg_contents SET srs_id = ") + other +
                          "; UPDATE gpkg_geometry_columns SET srs_id = " + other);
        const std::string message =
            message_of<base::OutputError>([&] { verify_output(path, layers, header()); });
        EXPECT_NE(message.find("not EPSG:27700"), std::string::npos) << message;
    }
}

// GDAL only warns where it could not write these two.
TEST_F(ReadBack, SeesAFileThatDoesNotSayWhatItIs) {
    const OutputLayers none;
    EXPECT_NO_THROW(verify_output(path, none, header()));
    for (const char* change : {"PRAGMA application_id = 0", "PRAGMA user_version = 0"}) {
        const std::string whole = read_file(path);
        execute(path, change);
        EXPECT_THROW(verify_output(path, none, header()), base::OutputError) << change;
        std::ofstream(path, std::ios::binary) << whole;
    }
}

} // namespace loopwalk::gis::test
