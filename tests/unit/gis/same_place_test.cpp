#include "../../../src/gis/same_place.hpp"
#include "fixture.hpp"

namespace loopwalk::gis::test {

namespace {

struct SamePlace : testing::Test {
    TempFolder folder;
    [[nodiscard]] bool same(const std::string& a, const std::string& b) const {
        const bool there = DiskPlace(folder / a).is(DiskPlace(folder / b));
        EXPECT_EQ(DiskPlace(folder / b).is(DiskPlace(folder / a)), there) << a << ", " << b;
        return there;
    }
    [[nodiscard]] bool within(const std::string& a, const std::string& b) const {
        return DiskPlace(folder / a).is_within(DiskPlace(folder / b));
    }
    [[nodiscard]] bool part(const std::string& a, const std::string& b) const {
        return DiskPlace(folder / a).is_part_of(DiskPlace(folder / b));
    }
};

} // namespace

TEST_F(SamePlace, BySpelling) {
    folder.write("town.gpkg", "x");
    fs::create_directory(folder / "sub");
    EXPECT_TRUE(same("town.gpkg", "./town.gpkg"));
    EXPECT_TRUE(same("town.gpkg", "sub/../town.gpkg"));
    EXPECT_TRUE(same("none.gpkg", "sub/..//none.gpkg")); // not there yet
    EXPECT_TRUE(same("sub", "sub/"));
    EXPECT_FALSE(same("town.gpkg", "none.gpkg"));
    EXPECT_FALSE(same("town.gpkg", "sub/town.gpkg"));
}

TEST_F(SamePlace, ByLinks) {
    folder.write("town.gpkg", "x");
    fs::create_symlink(folder / "town.gpkg", folder / "soft");
    fs::create_hard_link(folder / "town.gpkg", folder / "hard");
    fs::create_symlink("to_come.gpkg", folder / "dangling"); // relative to its own folder
    fs::create_symlink("dangling", folder / "again");
    fs::create_symlink("round", folder / "round");
    EXPECT_TRUE(same("town.gpkg", "soft"));
    EXPECT_TRUE(same("soft", "hard"));
    EXPECT_TRUE(same("again", "to_come.gpkg"));
    EXPECT_FALSE(same("round", "town.gpkg"));
    EXPECT_EQ(followed(folder / "again"), fs::canonical(folder / "").string() + "/to_come.gpkg");
}

// On a drive that knows no case the two would be one file; where both exist the system tells.
TEST_F(SamePlace, ByCase) {
    EXPECT_TRUE(same("Out.gpkg", "out.GPKG"));
    EXPECT_TRUE(same("stra\xC3\x89.gpkg", "stra\xC3\xA9.gpkg"));
    EXPECT_FALSE(same("a\xC3\x97", "a\xC3\xB7")); // the signs of multiplying and dividing
    folder.write("A.gpkg", "x");
    folder.write("a.gpkg", "x");
    if (folder.names().size() == 2) {
        EXPECT_FALSE(same("A.gpkg", "a.gpkg"));
    }
}

TEST_F(SamePlace, WithinAFolder) {
    EXPECT_TRUE(within("out.shp/columns.dbf", "out.shp"));
    EXPECT_TRUE(within("OUT.shp/a/b", "out.shp/"));
    EXPECT_FALSE(within("out.shp2/a", "out.shp"));
    EXPECT_FALSE(within("out.shp", "out.shp"));
    EXPECT_TRUE(DiskPlace(folder / "a").is_within(DiskPlace("/")));
}

TEST_F(SamePlace, PartOfWhatIsRead) {
    for (const char* journal : {"-wal", "-shm", "-journal"}) {
        EXPECT_TRUE(part(std::string("town.gpkg") + journal, "town.gpkg")) << journal;
        EXPECT_FALSE(part("town.gpkg", std::string("town.gpkg") + journal)) << journal;
    }
    EXPECT_TRUE(part("columns.prj", "columns.shp"));
    EXPECT_TRUE(part("columns.DBF", "Columns.shp"));
    EXPECT_TRUE(part("ways.csvt", "ways.csv"));
    EXPECT_FALSE(part("other.prj", "columns.shp"));
    EXPECT_FALSE(part("columns.gpkg", "columns.shp"));
    EXPECT_FALSE(part("town.gpkg-bak", "town.gpkg"));
}

TEST_F(SamePlace, FileBehindAnArchive) {
    folder.write("town.zip", "x");
    EXPECT_TRUE(DiskPlace("/vsizip/" + (folder / "town.zip")).is(DiskPlace(folder / "town.zip")));
    EXPECT_TRUE(DiskPlace("/vsizip/" + (folder / "town.zip") + "/sub/columns.csv")
                    .is(DiskPlace(folder / "town.zip")));
    EXPECT_TRUE(DiskPlace("/vsizip/{" + (folder / "town.zip") + "}/columns.csv")
                    .is(DiskPlace(folder / "town.zip")));
    EXPECT_FALSE(DiskPlace("/vsizip/" + (folder / "none.zip")).is(DiskPlace(folder / "town.zip")));
}

} // namespace loopwalk::gis::test
