#include "job_file_fixture.hpp"

namespace loopwalk::config {
namespace {

using base::AssetLayer;

TEST_F(JobFile, ReadsNamesUnitsAndWordsOfALayer) {
    const Job job = read(R"(
[cables]
crs = "EPSG:27700"
decimal = ","
fields = { Length_M = "LEN", cable_id = "ASSETREF", cable_type = ["SIZE", "KIND"], status = "" }
units = { length_m = "feet" }
[cables.values.cable_type]
"6mm*2c*SWA" = "SWA XLPE Cu 2x6"
"?" = ""
"*" = "Z"
"10mm" = "A"
[columns]
values = { load_w = { "SON 70" = 84.5, "none" = 0 }, owner = { "CC*" = "council" } }
)");
    const LayerSource& cables = job.data.of(AssetLayer::cables);
    EXPECT_EQ(cables.crs, "EPSG:27700");
    EXPECT_EQ(cables.decimal, base::DecimalMark::comma);
    ASSERT_EQ(cables.fields.size(), 4U); // in the field order of the contract
    EXPECT_EQ(cables.fields[0].field, "cable_id");
    EXPECT_EQ(cables.fields[0].names, std::vector<std::string>{"ASSETREF"});
    EXPECT_EQ(cables.fields[1].names, (std::vector<std::string>{"SIZE", "KIND"}));
    EXPECT_EQ(cables.fields[2].field, "length_m");
    EXPECT_TRUE(cables.fields[3].names.empty());
    ASSERT_EQ(cables.units.size(), 1U);
    EXPECT_EQ(cables.units[0].unit->name, "ft");
    ASSERT_EQ(cables.values.size(), 1U);
    const auto& kinds = cables.values[0].translations;
    ASSERT_EQ(kinds.size(), 4U); // in file order, not in that of their names
    EXPECT_EQ(kinds[0].pattern, "6mm*2c*SWA");
    EXPECT_EQ(kinds[1].pattern, "?");
    EXPECT_EQ(kinds[1].meaning, "");
    EXPECT_EQ(kinds[2].pattern, "*");
    EXPECT_EQ(kinds[3].meaning, "A");
    const auto& words = job.data.of(AssetLayer::columns).values;
    ASSERT_EQ(words.size(), 2U);
    EXPECT_EQ(words[0].field, "owner");
    EXPECT_EQ(words[1].translations[0].meaning, "84.5");
    EXPECT_EQ(words[1].translations[1].meaning, "0");
}

TEST_F(JobFile, OptionsOfADriverBelongToTheirDataset) {
    const Job job = read(R"(
[data]
open_options = { ENCODING = "CP1252" }
[columns]
open_options = { X_POSSIBLE_NAMES = "E", PASSWORD = "open" }
)");
    EXPECT_EQ(job.data.open_options, std::vector<std::string>{"ENCODING=CP1252"});
    EXPECT_EQ(job.data.of(AssetLayer::columns).open_options,
              (std::vector<std::string>{"PASSWORD=open", "X_POSSIBLE_NAMES=E"}));
    EXPECT_TRUE(job.data.of(AssetLayer::cables).open_options.empty());
    for (const auto& [name, text] : settings_text(job)) { // of the run record
        EXPECT_FALSE(has(text, "open")) << name;
    }
    EXPECT_TRUE(has(error("[data]\nopen_options = 'A=b'\n"), "table is needed"));
    EXPECT_TRUE(has(error("[data]\nopen_options = { A = 1 }\n"), "text in quotes"));
}

TEST_F(JobFile, APartIsABoxOrAnArea) {
    const std::string data = "[data]\ndataset = 'x.gpkg'\n";
    const Job job = read(data + "bbox = [1, 2.5, 3, 4]\nbbox_crs = 'EPSG:4326'\n");
    EXPECT_EQ(job.data.part.bbox, (std::vector<double>{1, 2.5, 3, 4}));
    EXPECT_EQ(job.data.part.bbox_crs, "EPSG:4326");
    EXPECT_FALSE(job.data.part.is_all());
    EXPECT_TRUE(read(data).data.part.is_all());
    EXPECT_EQ(read(data + "area = 'Hill'\n").data.part.area, "Hill");
    EXPECT_EQ(error(data + "bbox = [1, 2, 3, 4]\n"), "");
    EXPECT_TRUE(has(error(data + "bbox = [1, 2, 3]\n"), "xmin"));
    EXPECT_TRUE(has(error(data + "bbox = [3, 2, 1, 4]\n"), "smaller"));
    EXPECT_TRUE(has(error(data + "bbox = [1, 2, 1, 4]\n"), "smaller"));
    EXPECT_TRUE(has(error(data + "bbox = [1, 2, 3, 4]\narea = 'Hill'\n"), "exclude"));
    EXPECT_TRUE(has(error(data + "bbox_crs = 'EPSG:4326'\n"), "no box"));
    EXPECT_TRUE(has(error(data + "bbox = '1, 2, 3, 4'\n"), "four numbers"));
}

TEST_F(JobFile, InlineTranslationsKeepTheirOrderOnOneLine) {
    const Job job = read("[cables]\nvalues = { circuit = { z = '1', a = '2', m = '3' } }\n");
    const auto& translations = job.data.of(AssetLayer::cables).values[0].translations;
    EXPECT_EQ(translations[0].pattern + translations[1].pattern + translations[2].pattern, "zam");
}

TEST_F(JobFile, SlipsInTheTablesOfALayerNameTheNearest) {
    EXPECT_TRUE(has(error("[cables]\nfields = { cabel_id = 'x' }\n"), "'cable_id'"));
    EXPECT_TRUE(has(error("[cables]\nfields = { cable_id = '' }\n"), "identifies"));
    EXPECT_TRUE(has(error("[cables]\nfields = { cable_id = [] }\n"), "empty"));
    EXPECT_TRUE(has(error("[cables]\nfields = { cable_type = ['a', ''] }\n"), "empty"));
    EXPECT_TRUE(has(error("[cables]\nfields = 'x'\n"), "table is needed"));
    EXPECT_TRUE(has(error("[cables]\nfields = { status = 'a', Status = 'b' }\n"), "twice"));
    EXPECT_TRUE(has(error("[cables]\nunits = { length_m = 'kW' }\n"), "not a unit for it"));
    EXPECT_TRUE(has(error("[cables]\nunits = { length_m = 'fot' }\n"), "'ft'"));
    EXPECT_TRUE(has(error("[cables]\nunits = { cable_type = 'mm2' }\n"), "has no unit"));
    EXPECT_TRUE(has(error("[cables]\nvalues = { owner = 'council' }\n"), "table is needed"));
    EXPECT_TRUE(has(error("[cables]\nvalues = { owner = { a = true } }\n"), "text in quotes"));
    EXPECT_TRUE(has(error("[cables]\ndecimal = ';'\n"), "[cables] decimal"));
    EXPECT_TRUE(has(error("[cables]\nfeilds = { cable_id = 'x' }\n"), "'fields'"));
}

TEST_F(JobFile, NumbersMayCarryTheirUnit) {
    // 3 ft and 20 ft; 0.0225 sq in = 14.5161 mm2; 7/.036: 7 wires of 0.036 in, 4.5966 mm2.
    const Job job = read(R"(
[network]
snap_m = "3 ft"
reach_m = "20ft"
[rules]
load_w = { low = "0.02 kW", high = 100 }
tail_csa_mm2 = ["7/.036", "0.0225 sq in"]
[cables]
missing = { length_m = ["10 yd", 60] }
)");
    EXPECT_DOUBLE_EQ(job.network.snap.value(), 0.9144);
    EXPECT_DOUBLE_EQ(job.network.reach.value(), 6.096);
    EXPECT_DOUBLE_EQ(job.rules.load.low.value(), 20.0);
    EXPECT_NEAR(job.rules.tail_csa_mm2.low.value(), 4.5966, 1e-3);
    EXPECT_DOUBLE_EQ(job.rules.tail_csa_mm2.high.value(), 14.5161);
    EXPECT_DOUBLE_EQ(job.data.of(AssetLayer::cables).missing[0].range->low.value(), 9.144);
    EXPECT_TRUE(has(error("[network]\nsnap_m = '3'\n"), "a number (in m"));
    EXPECT_TRUE(has(error("[network]\nsnap_m = '3 kg'\n"), "a number (in m"));
    EXPECT_TRUE(has(error("[network]\nsnap_m = '-3 ft'\n"), "out of range"));
    EXPECT_TRUE(has(error("[rules]\ncmin = '0.9 m'\n"), "a number is needed"));
}

TEST_F(JobFile, TablesOfALayerAreSettingsOfTheRun) {
    const Job job = read("[data]\ndataset='x'\n[cables]\ndecimal = ','\n"
                         "fields = { cable_type = ['A', 'B'], status = '' }\n"
                         "units = { length_m = 'ft' }\n"
                         "values = { owner = { 'C*' = 'council', '?' = '' } }\n");
    std::string cables;
    for (const auto& [name, text] : settings_text(job)) {
        if (name.starts_with("cables.")) {
            cables += name + "=" + text + "\n";
        }
    }
    EXPECT_EQ(cables, "cables.decimal=,\ncables.fields.cable_type=A, B\n"
                      "cables.fields.status=(none)\ncables.units.length_m=ft\n"
                      "cables.values.owner=\"C*\" = \"council\", \"?\" = \"\"\n");
}

} // namespace
} // namespace loopwalk::config
