#include "input_fixture.hpp"

namespace loopwalk::input {
namespace {

TEST_F(InputTest, LayersComeFromTheDefaultDatasetOrTheirOwn) {
    plain_cables();
    plain_columns();
    const ReadResult result = read();
    EXPECT_EQ(result.layers.columns.size(), 1U);
    EXPECT_EQ(result.layers.cables.size(), 1U);
    EXPECT_FALSE(result.layers.has_layer[static_cast<std::size_t>(AssetLayer::supplies)]);
    Source opened(m_job.data);
    EXPECT_EQ(opened.dataset_names().size(), 2U);
    EXPECT_EQ(opened.files().size(), 2U);
    EXPECT_EQ(opened.layer(AssetLayer::ways), nullptr);
}

TEST_F(InputTest, MissingNeededLayerNamesDatasetLayerAndWhatIsThere) {
    plain_cables();
    source(AssetLayer::columns).dataset = source(AssetLayer::cables).dataset;
    const std::string message = error<base::InputError>();
    expect_has(message, "cables.geojson");
    expect_has(message, "'columns'");
    expect_has(message, "there are: cables");
}

TEST_F(InputTest, LayerThatTheJobNamesMustExist) {
    plain_cables();
    plain_columns();
    source(AssetLayer::supplies).dataset = source(AssetLayer::cables).dataset;
    expect_has(error<base::InputError>(), "'supplies'");
    source(AssetLayer::supplies).layer = "pillars";
    expect_has(error<base::InputError>(), "'pillars'");
}

TEST_F(InputTest, LayerNameIsComparedWithoutCase) {
    plain_cables();
    plain_columns();
    source(AssetLayer::columns).layer = "COLUMNS";
    EXPECT_EQ(read().layers.columns.size(), 1U);
}

TEST_F(InputTest, MissingNeededFieldNamesFieldsThatAreThere) {
    plain_cables();
    layer(AssetLayer::columns, {{point(1, 1), R"("asset":"C1","height":5)"}});
    const std::string message = error<base::InputError>();
    expect_has(message, "columns.geojson");
    expect_has(message, "layer columns");
    expect_has(message, "'column_id'");
    expect_has(message, "asset, height");
}

TEST_F(InputTest, FieldNamesAreComparedWithoutCase) {
    plain_cables();
    layer(AssetLayer::columns, {{point(1, 1), R"("COLUMN_ID":"C1","Load_W":35)"}});
    EXPECT_EQ(read().layers.columns[0].load, base::Maybe(base::Watt(35.0)));
}

TEST_F(InputTest, LayerWithoutGeometryCannotBeColumns) {
    plain_cables();
    source(AssetLayer::columns).dataset = write("columns.csv", "column_id,kind\nC1,column\n");
    expect_has(error<base::InputError>(), "no geometry");
}

TEST_F(InputTest, MissingFileIsAnInputError) {
    plain_cables();
    source(AssetLayer::columns).dataset = (m_folder / "none.gpkg").string();
    expect_has(error<base::InputError>(), "none.gpkg");
}

TEST_F(InputTest, FilterLeavesFeaturesOut) {
    plain_cables();
    layer(AssetLayer::columns, {{point(1, 1), R"("column_id":"C1","own":"X")"},
                                {point(9, 9), R"("column_id":"C2","own":"Y")"}});
    source(AssetLayer::columns).where = "own <> 'X'";
    const ReadResult result = read();
    ASSERT_EQ(result.layers.columns.size(), 1U);
    EXPECT_EQ(result.layers.id_text(result.layers.columns[0].id), "C2");
    EXPECT_EQ(result.position_of_feature[0].size(), 1U);
    source(AssetLayer::columns).where = "own <<>> 'X'";
    expect_has(error<base::ConfigError>(), "<<>>");
}

TEST_F(InputTest, OneLayerCanServeTwoPurposes) {
    plain_cables();
    layer(AssetLayer::columns,
          {{point(1, 1), R"("column_id":"C1","supply_id":null,"what":"lamp")"},
           {point(9, 9), R"("column_id":null,"supply_id":"P1","what":"pillar")"}});
    source(AssetLayer::columns).where = "what = 'lamp'";
    source(AssetLayer::supplies).dataset = source(AssetLayer::columns).dataset;
    source(AssetLayer::supplies).layer = "columns";
    source(AssetLayer::supplies).where = "what = 'pillar'";
    const ReadResult result = read();
    ASSERT_EQ(result.layers.columns.size(), 1U);
    ASSERT_EQ(result.layers.supplies.size(), 1U);
    EXPECT_EQ(result.layers.id_text(result.layers.columns[0].id), "C1");
    EXPECT_EQ(result.layers.id_text(result.layers.supplies[0].id), "P1");
    Source opened(m_job.data);
    EXPECT_EQ(opened.dataset_names().size(), 2U); // cables and columns, each once
}

TEST_F(InputTest, EmptyLayersAreFine) {
    plain_cables();
    source(AssetLayer::columns).dataset =
        write("columns.csv", "column_id,WKT\n"); // no feature at all
    source(AssetLayer::ways).dataset = write("ways.csv", "supply_id,way\n");
    const ReadResult result = read();
    EXPECT_TRUE(result.layers.columns.empty());
    EXPECT_TRUE(result.layers.has_layer[static_cast<std::size_t>(AssetLayer::columns)]);
    EXPECT_TRUE(m_list->all().empty());
}

TEST_F(InputTest, WordsOfMissingMustBeWordsOfTheField) {
    plain_cables();
    plain_columns();
    source(AssetLayer::supplies).missing.push_back({"earthing", {"TNCS"}, std::nullopt});
    const std::string message = error<base::ConfigError>();
    expect_has(message, "[supplies] missing.earthing");
    expect_has(message, "TN-C-S");
    source(AssetLayer::supplies).missing = {{"earthing", {"tn-s"}, std::nullopt}};
    EXPECT_NO_THROW(read());
    source(AssetLayer::cables).missing = {
        {"length_m", {}, base::Bounds<base::Number>{base::Number(-1.0), base::Number(2.0)}}};
    expect_has(error<base::ConfigError>(), "above 0");
}

TEST_F(InputTest, RecordsEditedWhileTheyAreReadAreTold) {
    plain_cables();
    plain_columns();
    const Source opened(m_job.data);
    EXPECT_NO_THROW(opened.check_unchanged());
    const std::string path = source(AssetLayer::columns).dataset;
    std::string text;
    std::getline(std::ifstream(path), text, '\0');
    std::replace(text.begin(), text.end(), '1', '2'); // of the same length
    const auto time = std::filesystem::last_write_time(path);
    write("columns.geojson", text);
    std::filesystem::last_write_time(path, time); // as a copy with its times, or a coarse clock
    try {
        opened.check_unchanged();
        ADD_FAILURE() << "the change was not told";
    } catch (const base::InputError& e) {
        expect_has(e.what(), "columns.geojson");
        expect_has(e.what(), "changed while it was read");
    }
}

TEST_F(InputTest, FileThatGoesAwayWhileItIsReadIsTold) {
    plain_cables();
    plain_columns();
    const Source opened(m_job.data);
    std::filesystem::remove(source(AssetLayer::cables).dataset);
    EXPECT_THROW(opened.check_unchanged(), base::InputError);
}

TEST_F(InputTest, LayersThatWereReadAreListed) {
    plain_cables();
    plain_columns();
    source(AssetLayer::ways).dataset = write("ways.csv", "supply_id,way\nP1,1\nP1,2\n");
    const ReadResult result = read();
    ASSERT_EQ(result.read.size(), 3U);
    EXPECT_EQ(result.read[0].layer, AssetLayer::columns);
    EXPECT_EQ(result.read[0].features, 1);
    EXPECT_EQ(result.read[0].system, "EPSG:27700");
    EXPECT_EQ(result.read[2].name, "ways");
    EXPECT_EQ(result.read[2].features, 2);
    EXPECT_EQ(result.read[2].system, "");
}

} // namespace
} // namespace loopwalk::input
