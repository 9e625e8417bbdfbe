// Names, units and words of a dataset as the job translates them.
#include "input_fixture.hpp"

namespace loopwalk::input {
namespace {

using base::ConfigError;
using base::InputError;
using base::Maybe;
using base::Metre;
using base::Watt;

class OwnNames : public InputTest {
  protected:
    void cables(const std::string& properties) {
        layer(AssetLayer::cables, {{line("[[100,100],[130,100]]"), properties}});
    }
    [[nodiscard]] static bool is_told(const ReadResult& result, const std::string& part) {
        return std::any_of(result.assumptions.begin(), result.assumptions.end(),
                           [&](const auto& text) { return text.find(part) != std::string::npos; });
    }
};

TEST_F(OwnNames, FieldsAreFoundUnderTheNamesOfTheJob) {
    plain_columns();
    cables(R"("ASSETREF":"007","SIZE":6,"KIND":"swa","LEN":30,"status":"whatever","length_m":1)");
    source(AssetLayer::cables).fields = {{"cable_id", {"assetref"}},
                                         {"cable_type", {"KIND", "SIZE"}},
                                         {"length_m", {"LEN"}},
                                         {"status", {}}};
    const ReadResult result = read();
    const model::Cable& cable = result.layers.cables[0];
    EXPECT_EQ(result.layers.id_text(cable.id), "007"); // leading zeros stay
    EXPECT_EQ(cable.type.type, base::CableTypeId(0));  // "swa 6" is SWA 6
    EXPECT_EQ(cable.laid, Maybe(Metre(30.0)));
    EXPECT_TRUE(m_list->all().empty());
}

TEST_F(OwnNames, AFieldThatIsNotThereIsAnErrorWithTheNearest) {
    plain_columns();
    cables(R"("ASSETREF":"1")");
    source(AssetLayer::cables).fields = {{"cable_id", {"ASETREF"}}};
    const std::string message = error<InputError>();
    expect_has(message, "there is no field 'ASETREF'");
    expect_has(message, "[cables] fields.cable_id");
    expect_has(message, "'ASSETREF'?");
    source(AssetLayer::cables).fields = {};
    expect_has(error<InputError>(), "[cables] fields = { cable_id = \"...\" }");
}

TEST_F(OwnNames, UnitsOfTheJobAreConverted) {
    plain_cables();
    layer(AssetLayer::columns,
          {{point(1, 1), R"("column_id":"C1","load_w":0.07,"height_m":"20","tail_m":12.5)"},
           {point(9, 9), R"("column_id":"C2","load_w":"70 W","height_m":"20 ft","tail_m":"9 m")"}});
    source(AssetLayer::columns).units = {{"load_w", base::find_unit("kW")},
                                         {"tail_m", base::find_unit("yd")},
                                         {"height_m", base::find_unit("ft")}};
    const ReadResult result = read();
    EXPECT_NEAR((*result.layers.columns[0].load).value(), 70.0, 1e-9);
    EXPECT_NEAR((*result.layers.columns[0].height).value(), 6.096, 1e-9);
    EXPECT_NEAR((*result.layers.columns[0].tail).value(), 11.43, 1e-9);
    EXPECT_EQ(result.layers.columns[1].load, Maybe(Watt(70.0))); // a written unit goes before
    EXPECT_NEAR((*result.layers.columns[1].height).value(), 6.096, 1e-9);
    EXPECT_EQ(result.layers.columns[1].tail, Maybe(Metre(9.0)));
}

TEST_F(OwnNames, WordsAreTranslatedInFileOrder) {
    plain_cables();
    layer(AssetLayer::columns,
          {{point(1, 1), R"("column_id":"C1","owner":"CC Works","load_w":"SON 70W","fuse_a":99)"},
           {point(9, 9), R"("column_id":"C2","owner":"cc  dno","load_w":"LED 24W","fuse_a":6)"},
           {point(20, 9), R"("column_id":"C3","owner":"N/K","load_w":"35","fuse_a":10)"}});
    source(AssetLayer::columns).values = {
        {"owner", {{"*DNO", "distributor"}, {"CC*", "council"}, {"n/k", ""}, {"zz", "council"}}},
        {"load_w", {{"*70W", "84"}, {"LED 24W", "0.024 kW"}}},
        {"fuse_a", {{"99", ""}}}};
    const ReadResult result = read();
    const auto& columns = result.layers.columns;
    EXPECT_EQ(columns[0].owner, model::Owner::council);
    EXPECT_EQ(columns[0].load, Maybe(Watt(84.0)));
    EXPECT_FALSE(columns[0].fuse.rating);
    EXPECT_EQ(columns[1].owner, model::Owner::distributor);
    EXPECT_EQ(columns[1].load, Maybe(Watt(24.0)));
    EXPECT_EQ(columns[1].fuse.rating, Maybe(base::Ampere(6.0)));
    EXPECT_EQ(columns[2].owner, model::Owner::unknown);
    EXPECT_EQ(columns[2].load, Maybe(Watt(35.0)));
    EXPECT_TRUE(found(Rule::bad_value).empty()); // what the job says is no remark
    EXPECT_TRUE(is_told(result, "'zz' in owner"));
    EXPECT_FALSE(is_told(result, "'n/k'"));
}

TEST_F(OwnNames, TranslationsToWhatTheFieldCannotHoldAreErrors) {
    plain_cables();
    plain_columns();
    const auto wrong = [&](const char* field, const char* meaning) {
        source(AssetLayer::columns).values = {{field, {{"x", meaning}}}};
        return error<ConfigError>();
    };
    expect_has(wrong("owner", "councill"), "councill is not a word");
    expect_has(wrong("load_w", "many"), "'many' is no number");
    expect_has(wrong("load_w", "12 m"), "'12 m' is no number");
    expect_has(wrong("load_w", "-5"), "-5 is not a number of at least 0");
    expect_has(wrong("fuse_type", "BS88-2"), "the nearest is 'BS 88-2'");
    expect_has(wrong("tail_type", "SWA6"), "the nearest is 'SWA 6'");
    EXPECT_EQ(wrong("fuse_type", "none"), "");
}

TEST_F(OwnNames, NumbersInTextsAreUsedAndToldOnce) {
    plain_cables();
    layer(
        AssetLayer::columns,
        {{point(1, 1), R"("column_id":"C1","height_m":"8,5","load_w":"35W","tail_m":"1 200")"},
         {point(9, 9), R"("column_id":"C2","height_m":"10","load_w":"0.07 kW","tail_m":"3")"},
         {point(20, 9), R"("column_id":"C3","height_m":"6,25","load_w":"8 m","tail_m":"1,200")"}});
    const ReadResult result = read();
    const auto& columns = result.layers.columns;
    EXPECT_EQ(columns[0].height, Maybe(Metre(8.5)));
    EXPECT_EQ(columns[2].height, Maybe(Metre(6.25)));
    EXPECT_EQ(columns[0].load, Maybe(Watt(35.0)));
    EXPECT_NEAR((*columns[1].load).value(), 70.0, 1e-9);
    EXPECT_FALSE(columns[2].load); // metres are no watts
    EXPECT_EQ(columns[0].tail, Maybe(Metre(1200.0)));
    EXPECT_FALSE(columns[2].tail); // 1.2 or 1200
    EXPECT_EQ(brief(Rule::bad_value), (Texts{"columns C3", "columns C1 8.5000 x2",
                                             "columns C1 35.000 x2", "columns C1 1200.0 x1"}));
    const auto all = found(Rule::bad_value);
    EXPECT_EQ(all[0].severity, base::Severity::warning);
    expect_has(all[0].message, "'8 m', whose unit does not fit");
    expect_has(all[0].message, "'1,200', which may be two numbers");
    EXPECT_EQ(all[1].severity, base::Severity::note);
    expect_has(all[1].message, "with a decimal comma (2 features); they are used, here as 8.5 m.");
}

TEST_F(OwnNames, TheDecimalSignOfTheJobSettlesDoubts) {
    plain_cables();
    layer(AssetLayer::columns,
          {{point(1, 1), R"("column_id":"C1","height_m":"8,500","tail_m":"1.200")"}});
    source(AssetLayer::columns).decimal = base::DecimalMark::comma;
    const ReadResult result = read();
    EXPECT_EQ(result.layers.columns[0].height, Maybe(Metre(8.5)));
    EXPECT_EQ(result.layers.columns[0].tail, Maybe(Metre(1200.0)));
    EXPECT_TRUE(found(Rule::bad_value).empty());
}

TEST_F(OwnNames, ALayerIsTakenToBeInTheSystemOfTheJob) {
    plain_cables();
    // 51.5 N, 0.1 W written as degrees in a file that states the national grid.
    layer(AssetLayer::columns, {{point(-0.1, 51.5), R"("column_id":"C1")"}});
    source(AssetLayer::columns).crs = "EPSG:4326";
    const ReadResult result = read();
    EXPECT_NEAR(result.layers.columns[0].place.x, 532000.0, 3000.0); // TQ 3x 1xx
    EXPECT_NEAR(result.layers.columns[0].place.y, 179500.0, 3000.0);
    source(AssetLayer::columns).crs = "EPSG:none";
    expect_has(error<ConfigError>(), "[columns] crs: ");
}

TEST_F(OwnNames, ATableForALayerThatIsNotThereIsAnError) {
    plain_cables();
    plain_columns();
    m_job.data.dataset = source(AssetLayer::columns).dataset;
    source(AssetLayer::joints).fields = {{"joint_id", {"ID"}}};
    expect_has(error<InputError>(), "there is no layer 'joints'");
}

} // namespace
} // namespace loopwalk::input
