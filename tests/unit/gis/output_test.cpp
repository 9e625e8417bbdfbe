#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/output.hpp"

#include <sqlite3.h>

#include "../../../src/gis/partial_folder.hpp"
#include "fixture.hpp"
#include <algorithm>
#include <array>
#include <csignal>
#include <fcntl.h>
#include <limits>
#include <sys/resource.h>
#include <sys/wait.h>

namespace loopwalk::gis::test {

namespace {

const std::vector<OutputField> kFields = {
    {"name", FieldKind::text}, {"length_m", FieldKind::real}, {"count", FieldKind::integer}};

void write_sample(OutputDataset& output) {
    const Crs crs = Crs::from_text("EPSG:27700");
    LayerWriter points =
        output.create_layer({"points", GeometryKind::point, SpatialIndex::yes, kFields}, crs);
    Row& row = points.row();
    row.set(0, std::string_view("caf\xC3\xA9"));
    row.set(1, 0.1 + 0.2);
    row.set(2, std::int64_t{9007199254740993});
    points.write(base::Point2{530000.5, 180000.25});
    static_cast<void>(points.row());
    points.write(); // no geometry, everything null
    LayerWriter lines =
        output.create_layer({"lines", GeometryKind::multi_line, SpatialIndex::no, {}}, crs);
    static_cast<void>(lines.row());
    lines.write(std::vector<base::Polyline>{{{0, 0}, {3, 4}}, {{5, 5}, {6, 6}, {7, 5}}});
    LayerWriter table = output.create_layer(
        {"run", GeometryKind::none, SpatialIndex::yes, {{"key", FieldKind::text}}}, crs);
    table.row().set(0, std::string_view("version"));
    table.write();
    LayerWriter findings =
        output.create_layer({"findings", GeometryKind::none, SpatialIndex::no, {}}, crs);
    LayerWriter empty =
        output.create_layer({"gaps", GeometryKind::line, SpatialIndex::yes, {}}, crs);
}

struct OutputTest : testing::Test {
    TempFolder folder;
    std::string out = folder / "out.gpkg";

    void write(const std::string& path, Overwrite overwrite = Overwrite::no,
               const std::vector<std::string>& inputs = {}) const {
        OutputDataset output(path, overwrite, inputs);
        write_sample(output);
        output.finish();
    }
};

} // namespace

TEST_F(OutputTest, ValuesArriveExactly) {
    write(out);
    EXPECT_EQ(value(out, "SELECT name FROM points WHERE fid = 1"), "caf\xC3\xA9");
    EXPECT_EQ(value(out, "SELECT length_m = 0.1 + 0.2 FROM points WHERE fid = 1"), "1");
    EXPECT_EQ(value(out, "SELECT count FROM points WHERE fid = 1"), "9007199254740993");
    EXPECT_EQ(value(out, "SELECT name IS NULL AND length_m IS NULL AND count IS NULL AND geom IS "
                         "NULL FROM points WHERE fid = 2"),
              "1");
    EXPECT_EQ(query(out, "SELECT key FROM run"), std::vector<std::string>{"version"});
    Dataset dataset(out);
    std::optional<Layer> lines = dataset.find_layer("lines");
    LayerCursor cursor = lines->read({}, Layer::WithGeometry::yes);
    ASSERT_TRUE(cursor.next());
    EXPECT_EQ(cursor.geometry().lines,
              (std::vector<base::Polyline>{{{0, 0}, {3, 4}}, {{5, 5}, {6, 6}, {7, 5}}}));
    EXPECT_EQ(lines->crs().text(), "EPSG:27700");
}

TEST_F(OutputTest, FileIsASoundGeoPackage) {
    write(out);
    EXPECT_EQ(value(out, "PRAGMA integrity_check"), "ok");
    EXPECT_TRUE(query(out, "PRAGMA foreign_key_check").empty());
    EXPECT_EQ(value(out, "PRAGMA application_id"), std::to_string(0x47504B47)); // "GPKG"
    EXPECT_EQ(query(out, "SELECT table_name || ' ' || data_type FROM gpkg_contents ORDER BY 1"),
              (std::vector<std::string>{"findings attributes", "gaps features", "lines features",
                                        "points features", "run attributes"}));
    EXPECT_EQ(value(out, "SELECT min_x || ' ' || max_y FROM gpkg_contents "
                         "WHERE table_name = 'points'"),
              "530000.5 180000.25");
    EXPECT_EQ(value(out, "SELECT feature_count FROM gpkg_ogr_contents WHERE table_name = 'points'"),
              "2");
    // An index for points and the empty gaps; none for lines (not wanted) and run (no geometry).
    EXPECT_EQ(query(out, "SELECT table_name FROM gpkg_extensions WHERE extension_name = "
                         "'gpkg_rtree_index' ORDER BY 1"),
              (std::vector<std::string>{"gaps", "points"}));
    EXPECT_EQ(value(out, "SELECT count(*) FROM sqlite_master WHERE type = 'trigger' AND name LIKE "
                         "'rtree_points_geom_%'"),
              "6");
}

TEST_F(OutputTest, TwoRunsGiveTheSameBytes) {
    write(out);
    const std::string first = read_file(out);
    write(out, Overwrite::yes);
    EXPECT_EQ(read_file(out) == first, true);
    EXPECT_GT(first.size(), 50000U);
}

TEST_F(OutputTest, NothingIsLeftBesideTheTarget) {
    write(out);
    EXPECT_EQ(folder.names(), std::vector<std::string>{"out.gpkg"});
}

TEST_F(OutputTest, GivingUpLeavesNoFile) {
    {
        OutputDataset output(out, Overwrite::no, {});
        write_sample(output);
        ASSERT_EQ(folder.names().size(), 1U);
        EXPECT_EQ(folder.names().front().substr(0, 18), ".out.gpkg.partial-");
        // What is not finished is nobody else's to read.
        EXPECT_EQ(fs::status(folder / folder.names().front()).permissions(), fs::perms::owner_all);
    }
    EXPECT_TRUE(folder.names().empty());
}

TEST_F(OutputTest, AnExceptionLeavesAnOlderFileAlone) {
    write(out);
    const std::string older = read_file(out);
    EXPECT_THROW(
        {
            OutputDataset output(out, Overwrite::yes, {});
            write_sample(output);
            throw base::Interrupted();
        },
        base::Interrupted);
    EXPECT_EQ(folder.names(), std::vector<std::string>{"out.gpkg"});
    EXPECT_EQ(read_file(out), older);
}

TEST_F(OutputTest, ExistingFileNeedsOverwrite) {
    write(out);
    const std::string older = read_file(out);
    const std::string message = message_of<base::OutputError>([&] { write(out); });
    EXPECT_NE(message.find("it exists"), std::string::npos) << message;
    EXPECT_EQ(read_file(out), older);
    write(out, Overwrite::yes);
    EXPECT_EQ(value(out, "SELECT count(*) FROM points"), "2");
}

TEST_F(OutputTest, FileThatAppearsMeanwhileIsKept) {
    for (const Overwrite overwrite : {Overwrite::no, Overwrite::yes}) {
        OutputDataset output(out, overwrite, {});
        write_sample(output);
        folder.write("out.gpkg", "someone else's");
        EXPECT_THROW(output.finish(), base::OutputError);
        EXPECT_EQ(read_file(out), "someone else's");
        fs::remove(out);
    }
}

TEST_F(OutputTest, OverwriteReplacesOnlyAnEarlierResult) {
    const auto refused = [&](const std::string& why) {
        const std::string before = read_file(out);
        const std::string message =
            message_of<base::OutputError>([&] { write(out, Overwrite::yes); });
        EXPECT_NE(message.find(why), std::string::npos) << message;
        EXPECT_EQ(read_file(out), before);
    };
    folder.write("out.gpkg", "somebody's letters");
    refused("not an earlier result");
    fs::remove(out);
    sqlite3* other = nullptr; // a database of something else
    ASSERT_EQ(sqlite3_open(out.c_str(), &other), SQLITE_OK);
    sqlite3_exec(other, "CREATE TABLE gpkg_contents (table_name)", nullptr, nullptr, nullptr);
    sqlite3_close(other);
    refused("not an earlier result");
    fs::remove(out);
    folder.write("out.gpkg", ""); // holds nothing that could be lost
    EXPECT_NO_THROW(write(out, Overwrite::yes));
    EXPECT_NO_THROW(write(out, Overwrite::yes));
}

// SQLite applies what it finds under these names to whatever file stands beside them.
TEST_F(OutputTest, AJournalBesideTheTargetIsRefused) {
    for (const char* ending : {"-wal", "-shm", "-journal"}) {
        folder.write(std::string("out.gpkg") + ending, "left behind");
        const std::string early = message_of<base::OutputError>([&] { write(out); });
        EXPECT_NE(early.find(ending), std::string::npos) << early;
        fs::remove(out + ending);
        OutputDataset output(out, Overwrite::no, {});
        write_sample(output);
        folder.write(std::string("out.gpkg") + ending, "left behind"); // came meanwhile
        EXPECT_THROW(output.finish(), base::OutputError) << ending;
        EXPECT_FALSE(fs::exists(out));
        fs::remove(out + ending);
    }
}

TEST_F(OutputTest, ATargetThatAnotherProgramHasOpenIsNotReplaced) {
    write(out);
    std::array<int, 2> ready{};
    ASSERT_EQ(::pipe(ready.data()), 0);
    const pid_t child = ::fork();
    if (child == 0) {
        const int file = ::open(out.c_str(), O_RDONLY | O_CLOEXEC);
        static_cast<void>(!::write(ready[1], "x", 1));
        ::pause();
        ::_exit(file);
    }
    char letter = 0;
    ASSERT_EQ(::read(ready[0], &letter, 1), 1);
    const std::string message = message_of<base::OutputError>([&] { write(out, Overwrite::yes); });
    ::kill(child, SIGKILL);
    ::waitpid(child, nullptr, 0);
    EXPECT_NE(message.find("open"), std::string::npos) << message;
    EXPECT_NO_THROW(write(out, Overwrite::yes)); // it is closed now
}

TEST_F(OutputTest, InputIsNeverWritten) {
    const std::string input = folder.write("in.gpkg", "the council's records");
    fs::create_symlink(input, folder / "link.gpkg");
    fs::create_hard_link(input, folder / "twin.gpkg");
    for (const char* name : {"in.gpkg", "link.gpkg", "twin.gpkg"}) {
        const std::string message = message_of<base::OutputError>([&] {
            write(folder / name, Overwrite::yes, {folder / "absent", input});
        });
        EXPECT_NE(message.find("is the input"), std::string::npos) << message;
    }
    EXPECT_EQ(read_file(input), "the council's records");
    EXPECT_EQ(folder.names().size(), 3U);
}

TEST_F(OutputTest, InputGivenAsALinkIsNeverWritten) {
    const std::string input = folder.write("in.gpkg", "the council's records");
    fs::create_symlink(input, folder / "link.gpkg");
    EXPECT_THROW(write(input, Overwrite::yes, {folder / "link.gpkg"}), base::OutputError);
    EXPECT_EQ(read_file(input), "the council's records");
}

TEST_F(OutputTest, PlacesThatCannotBeWritten) {
    EXPECT_THROW(write(folder / "no/such/out.gpkg"), base::OutputError);
    EXPECT_THROW(write(folder / "out.dxf"), base::OutputError);
    fs::create_directory(folder / "dir.gpkg");
    EXPECT_THROW(write(folder / "dir.gpkg", Overwrite::yes), base::OutputError);
    if (::geteuid() != 0) { // root may write anywhere
        fs::create_directory(folder / "locked");
        fs::permissions(folder / "locked", fs::perms::owner_read | fs::perms::owner_exec);
        EXPECT_THROW(write(folder / "locked/out.gpkg"), base::OutputError);
    }
}

TEST_F(OutputTest, PartialFilesOfDeadProcessesAreRemoved) {
    const pid_t child = ::fork();
    if (child == 0) {
        ::_exit(0);
    }
    ::waitpid(child, nullptr, 0); // now no process has that number
    const std::string start = ".out.gpkg.partial-";
    const std::string mine = process_mark(::getpid());
    const std::string here = mine.substr(0, mine.find('-') + 1); // this host
    const std::string number = std::to_string(child);
    const std::vector<std::string> kept = {
        ".other.gpkg.partial-" + here + "5-" + number, // of another target
        start + process_mark(::getppid()),             // lives
        start + "elsewhere-5-" + number,               // of another host on a shared drive
        start + "x"};                                  // none of ours
    const std::vector<std::string> stale = {
        start + here + "5-" + number,
        start + here + "5-" + std::to_string(::getppid())}; // a number that was given anew
    for (const auto& names : {kept, stale}) {
        for (const std::string& name : names) {
            fs::create_directory(folder / name);
            folder.write(name + "/result.gpkg", "");
        }
    }
    write(out);
    std::vector<std::string> expected = kept;
    expected.emplace_back("out.gpkg");
    std::sort(expected.begin(), expected.end());
    EXPECT_EQ(folder.names(), expected);
}

// A disk that fills up at any moment: the size that a file may have is limited further and further.
TEST_F(OutputTest, EveryFailedWriteIsAnErrorAndLeavesNothing) {
    write(out);
    const auto whole = static_cast<rlim_t>(fs::file_size(out));
    fs::remove(out);
    enum ChildResult : int { wrote = 10, refused = 11, left_something = 12, other = 13 };
    const auto run_with_limit = [&](rlim_t bytes) -> int {
        std::signal(SIGXFSZ, SIG_IGN); // else the limit kills the process
        const rlimit limit{bytes, bytes};
        ::setrlimit(RLIMIT_FSIZE, &limit);
        try {
            write(out);
            return wrote;
        } catch (const base::OutputError&) {
            return folder.names().empty() ? refused : left_something;
        } catch (const std::exception&) {
            return other;
        }
    };
    const auto result_with_limit = [&](rlim_t bytes) {
        const pid_t child = ::fork();
        if (child == 0) {
            ::_exit(run_with_limit(bytes));
        }
        int status = 0;
        ::waitpid(child, &status, 0);
        return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    };
    for (rlim_t bytes = 0; bytes < whole; bytes += 12288) {
        EXPECT_EQ(result_with_limit(bytes), refused) << bytes << " of " << whole;
    }
    EXPECT_EQ(result_with_limit(whole), wrote);
}

TEST_F(OutputTest, NumbersThatAreNoneAreABrokenInvariant) {
    OutputDataset output(out, Overwrite::no, {});
    LayerWriter table =
        output.create_layer({"t", GeometryKind::none, SpatialIndex::no, kFields}, Crs());
    Row& row = table.row();
    EXPECT_THROW(row.set(1, std::numeric_limits<double>::quiet_NaN()), base::InternalError);
    EXPECT_THROW(row.set(1, std::numeric_limits<double>::infinity()), base::InternalError);
    EXPECT_THROW(row.set_null(3), base::InternalError);
    LayerWriter points =
        output.create_layer({"p", GeometryKind::point, SpatialIndex::no, {}}, Crs());
    EXPECT_THROW(points.write(base::Point2{std::numeric_limits<double>::quiet_NaN(), 0}),
                 base::InternalError);
}

TEST_F(OutputTest, LayerWrittenTwiceIsRefused) {
    OutputDataset output(out, Overwrite::no, {});
    const LayerSchema schema{"t", GeometryKind::none, SpatialIndex::no, {}};
    static_cast<void>(output.create_layer(schema, Crs()));
    EXPECT_THROW(static_cast<void>(output.create_layer(schema, Crs())), base::OutputError);
}

// FIPS 180-2, appendix B.1: SHA-256 of "abc".
TEST(FileDigests, AreSha256) {
    const TempFolder folder;
    const FileDigest digest = digest_file(folder.write("abc.txt", "abc"));
    EXPECT_EQ(digest.size, 3U);
    EXPECT_EQ(digest.sha256, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    EXPECT_EQ(digest.checksum, checksum_of(folder / "abc.txt"));
    EXPECT_THROW(static_cast<void>(checksum_of(folder / "none")), base::InputError);
    EXPECT_THROW(static_cast<void>(digest_file(folder / "none")), base::InputError);
    EXPECT_THROW(static_cast<void>(digest_file(folder / "")), base::InputError); // a folder
}

TEST(FileDigests, ChecksumsTellEachByteThatDiffers) {
    const TempFolder folder;
    std::string text(300000, 'a'); // more than is read at a time
    const auto of = [&folder](const std::string& bytes) {
        return checksum_of(folder.write("file", bytes));
    };
    const std::string whole = of(text);
    EXPECT_EQ(whole.size(), 32U); // 128 bits
    EXPECT_EQ(of(text), whole);
    EXPECT_NE(of(text + "a"), whole);
    EXPECT_NE(of(text.substr(1)), whole);
    for (std::size_t at = 0; at < text.size(); at += 29989) {
        text[at] = 'b';
        EXPECT_NE(of(text), whole) << at;
        text[at] = 'a';
    }
}

} // namespace loopwalk::gis::test
