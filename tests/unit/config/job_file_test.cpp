#include "job_file_fixture.hpp"

namespace loopwalk::config {
namespace {

using base::AssetLayer;
using base::ConfigError;
using base::Metre;
using base::Number;

TEST_F(JobFile, EmptyFileGivesTheDefaults) {
    const Job job = read("");
    EXPECT_EQ(job.network.snap, Metre(0.5));
    EXPECT_EQ(job.rules.cmin, 0.95);
    EXPECT_TRUE(job.data.dataset.empty());
}

TEST_F(JobFile, AnEmptyLayerNameSaysThatThereIsNone) {
    const Job job = read("[cables]\nlayer = \" \"\n[columns]\nlayer = \"Lamps\"\n"
                         "dataset = \"lamps.gpkg\"\n");
    EXPECT_TRUE(job.data.of(AssetLayer::cables).is_absent);
    EXPECT_FALSE(job.data.of(AssetLayer::columns).is_absent);
    EXPECT_NO_THROW(check(job)); // needs no dataset for cables
    EXPECT_THROW((void)read("[columns]\nlayer = \"\"\n"), ConfigError);
    EXPECT_THROW((void)read("[cables]\nwhere = \"\"\n"), ConfigError);
}

TEST_F(JobFile, AnEndlessNameIsRefusedBeforeItIsParsed) {
    std::string header = "# \"one\n[a";
    for (int i = 1; i < 50000; ++i) {
        header += ".a";
    }
    EXPECT_NE(error("x = \"\"\"\n. . \"\"\"\n" + header + "]\n").find(":4: a name of 50000 parts"),
              std::string::npos);
    // Dots elsewhere are nobody's business: in texts, numbers and remarks.
    const std::string dots(100, '.');
    EXPECT_EQ(error("[data] # " + dots + "\ndataset = \"" + dots + "\"\n"), "");
    EXPECT_EQ(
        error("[data]\ndataset = '" + dots + "'\n[columns]\nwhere = \"\"\"x\n" + dots + "\"\"\"\n"),
        "");
}

TEST_F(JobFile, ReadsEveryKindOfKey) {
    const Job job = read(R"(
[data]
dataset = "records.gpkg"
[cables]
dataset = "/data/other.gpkg"
layer = "LightingCable"
where = "OWNER <> 'X'"
missing = { length_m = { low = 10, high = 60 }, cable_type = ["A", "B"] }
[columns]
missing = { load_w = [70, 35.5, 100], owner = "council" }
[network]
snap_m = 1
reach_m = 7.5
crs = "EPSG:27700"
[rules]
disconnection_s = 0.4
assumed_source = "Meets"
power_factor = { low = 0.9, high = 0.95 }
load_w = 60
[catalogue]
cables = "tables/cables.csv"
[output]
path = "../out.gpkg"
)");
    EXPECT_EQ(job.data.dataset, (m_folder / "records.gpkg").string());
    const LayerSource& cables = job.data.of(AssetLayer::cables);
    EXPECT_EQ(cables.dataset, "/data/other.gpkg");
    EXPECT_EQ(cables.layer, "LightingCable");
    EXPECT_EQ(cables.where, "OWNER <> 'X'");
    ASSERT_EQ(cables.missing.size(), 2U);
    EXPECT_EQ(cables.missing[0].field, "cable_type"); // in the order of the layer's fields
    EXPECT_EQ(cables.missing[0].words, (std::vector<std::string>{"A", "B"}));
    EXPECT_EQ(cables.missing[1].range->low, Number(10.0));
    EXPECT_EQ(cables.missing[1].range->high, Number(60.0));
    const LayerSource& columns = job.data.of(AssetLayer::columns);
    ASSERT_EQ(columns.missing.size(), 2U);
    EXPECT_EQ(columns.missing[0].words, std::vector<std::string>{"council"});
    EXPECT_EQ(columns.missing[1].range->low, Number(35.5));
    EXPECT_EQ(columns.missing[1].range->high, Number(100.0));
    EXPECT_EQ(job.network.snap, Metre(1.0));
    EXPECT_EQ(job.network.reach, Metre(7.5));
    EXPECT_EQ(job.network.crs, "EPSG:27700");
    EXPECT_EQ(job.rules.disconnection, base::Second(0.4));
    EXPECT_EQ(job.rules.assumed_source, AssumedSource::meets);
    EXPECT_EQ(job.rules.power_factor.low, Number(0.9));
    EXPECT_EQ(job.rules.load, base::Bounds<base::Watt>::exactly(base::Watt(60.0)));
    EXPECT_EQ(job.catalogue.cables, (m_folder / "tables/cables.csv").string());
    EXPECT_EQ(job.output.path, (m_folder.parent_path() / "out.gpkg").string());
}

TEST_F(JobFile, ConnectionStringsStayAsTheyAre) {
    for (const std::string text : {"PG:dbname=lighting", "/vsizip/a.zip/b.shp", "MSSQL:server=x"}) {
        EXPECT_EQ(read("[data]\ndataset = '" + text + "'").data.dataset, text);
    }
    std::ofstream(m_folder / "odd:name.gpkg") << "x";
    EXPECT_EQ(read("[data]\ndataset = 'odd:name.gpkg'").data.dataset,
              (m_folder / "odd:name.gpkg").string());
}

TEST_F(JobFile, RelativeJobPathKeepsRelativeDatasets) {
    write("[data]\ndataset = 'a.gpkg'");
    const auto before = std::filesystem::current_path();
    std::filesystem::current_path(m_folder);
    EXPECT_EQ(read_job_file("job.toml").data.dataset, "a.gpkg");
    std::filesystem::current_path(before);
}

TEST_F(JobFile, UnknownKeyNamesFileLineAndNearest) {
    const std::string message = error("[rules]\n\ncmim = 0.9\n");
    EXPECT_TRUE(has(message, path() + ":3: [rules]")) << message;
    EXPECT_TRUE(has(message, "'cmim'")) << message;
    EXPECT_TRUE(has(message, "'cmin'")) << message;
}

TEST_F(JobFile, KeyOfAnotherTableIsPointedThere) {
    EXPECT_TRUE(has(error("[network]\ncmin = 0.9\n"), "belongs in [rules]"));
}

TEST_F(JobFile, UnknownTableNamesNearest) {
    const std::string message = error("[cable]\nlayer = 'x'\n");
    EXPECT_TRUE(has(message, ":1: ")) << message;
    EXPECT_TRUE(has(message, "'cables'")) << message;
    EXPECT_TRUE(has(error("snap_m = 1\n"), ":1: "));
    EXPECT_TRUE(has(error("rules = 1\n"), "write [rules]"));
}

TEST_F(JobFile, WrongTypeIsAnError) {
    EXPECT_TRUE(has(error("[rules]\ncmin = '0.9'\n"), ":2: [rules] cmin: a number"));
    EXPECT_TRUE(has(error("[rules]\ncmin = true\n"), "not true or false"));
    EXPECT_TRUE(has(error("[rules]\ncmin = nan\n"), "finite"));
    EXPECT_TRUE(has(error("[data]\ndataset = 3\n"), "text in quotes"));
    EXPECT_TRUE(has(error("[data]\ndataset = ' '\n"), "empty"));
    EXPECT_TRUE(has(error("[rules]\nload_w = []\n"), "empty"));
    EXPECT_TRUE(has(error("[rules]\nload_w = { low = 1 }\n"), "both"));
    EXPECT_TRUE(has(error("[rules]\nload_w = { low = 1, hi = 2 }\n"), "'hi'"));
    EXPECT_TRUE(has(error("[rules]\nload_w = { low = 3, high = 2 }\n"), "larger"));
    EXPECT_TRUE(has(error("[rules]\nassumed_source = 'mets'\n"), "'meets'"));
}

TEST_F(JobFile, MissingIsCheckedAgainstTheFieldsOfTheLayer) {
    EXPECT_TRUE(has(error("[cables]\nmissing = { cabletype = 'A' }\n"), "'cable_type'"));
    EXPECT_TRUE(has(error("[cables]\nmissing = { length_m = 'A' }\n"), "missing.length_m"));
    EXPECT_TRUE(has(error("[cables]\nmissing = { cable_type = 3 }\n"), "text in quotes"));
    EXPECT_TRUE(has(error("[cables]\nmissing = { cable_id = 'A' }\n"), "identifies"));
    EXPECT_TRUE(has(error("[cables]\nmissing = 3\n"), "table is needed"));
}

TEST_F(JobFile, SyntaxErrorNamesTheLine) {
    EXPECT_TRUE(has(error("[data]\ndataset = \n"), path() + ":2: "));
    EXPECT_TRUE(has(error("[data]\n[data]\n"), path() + ":2: "));
}

TEST_F(JobFile, MissingFileAndFolderAreConfigErrors) {
    EXPECT_THROW((void)read_job_file((m_folder / "none.toml").string()), ConfigError);
    EXPECT_THROW((void)read_job_file(m_folder.string()), ConfigError);
}

TEST_F(JobFile, ReadsUtf8AndByteOrderMark) {
    EXPECT_EQ(read("\xEF\xBB\xBF[cables]\nlayer = 'Stra\xC3\x9F"
                   "e'\n")
                  .data.of(AssetLayer::cables)
                  .layer,
              "Stra\xC3\x9F"
              "e");
    EXPECT_FALSE(error("[cables]\nlayer = 'Stra\xDF"
                       "e'\n")
                     .empty());
}

} // namespace
} // namespace loopwalk::config
