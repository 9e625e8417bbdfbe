#include "loopwalk/base/error.hpp"
#include "loopwalk/config/config.hpp"
#include "loopwalk/config/contract_fields.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <functional>
#include <sstream>

namespace loopwalk::config {
namespace {

using base::ConfigError;
using base::Metre;
using base::Number;

Job good() {
    return job_for_dataset("records.gpkg");
}

TEST(Check, DefaultsPass) {
    EXPECT_NO_THROW(check(good()));
}

TEST(Check, RefusesWhatMakesNoSense) {
    const std::vector<std::pair<std::string, std::function<void(Job&)>>> cases{
        {"snap_m", [](Job& j) { j.network.snap = Metre(0.0); }},
        {"snap_m", [](Job& j) { j.network.snap = Metre(std::nan("")); }},
        {"reach_m", [](Job& j) { j.network.reach = Metre(0.25); }}, // below snap_m 0.5
        {"cmin", [](Job& j) { j.rules.cmin = 0.0; }},
        {"cmin", [](Job& j) { j.rules.cmin = 1.01; }},
        {"cmax", [](Job& j) { j.rules.cmax = 0.99; }},
        {"armour_ac_factor", [](Job& j) { j.rules.armour_ac_factor = 0.9; }},
        {"drawn_length_factor", [](Job& j) { j.rules.drawn_length_factor = 0.99; }},
        {"disconnection_s", [](Job& j) { j.rules.disconnection = base::Second(0.0); }},
        {"vdrop_pct", [](Job& j) { j.rules.vdrop_pct = -1.0; }},
        {"voltage_v", [](Job& j) { j.rules.voltage = base::Volt(0.0); }},
        {"thin_margin", [](Job& j) { j.rules.thin_margin = 0.5; }},
        {"power_factor", [](Job& j) { j.rules.power_factor.high = Number(1.1); }},
        {"power_factor", [](Job& j) { j.rules.power_factor.low = Number(0.0); }},
        {"load_w", [](Job& j) { j.rules.load.low = base::Watt(200.0); }}, // above the high 150
        {"dataset", [](Job& j) { j.data.dataset.clear(); }},
    };
    for (const auto& [name, spoil] : cases) {
        Job job = good();
        spoil(job);
        try {
            check(job);
            ADD_FAILURE() << name << " was accepted";
        } catch (const ConfigError& e) {
            EXPECT_NE(std::string(e.what()).find(name), std::string::npos) << e.what();
        }
    }
}

TEST(Check, LayersWithDatasetsOfTheirOwnNeedNoDefault) {
    Job job;
    job.data.layers[static_cast<std::size_t>(base::AssetLayer::columns)].dataset = "a";
    EXPECT_THROW(check(job), ConfigError);
    job.data.layers[static_cast<std::size_t>(base::AssetLayer::cables)].dataset = "b";
    EXPECT_NO_THROW(check(job));
}

TEST(Settings, NameEverySettingButNoPath) {
    Job job = good();
    job.catalogue.cables = "/some/where.csv";
    auto& cables = job.data.layers[static_cast<std::size_t>(base::AssetLayer::cables)];
    cables.dataset = "PG:password=x";
    cables.where = "A = 1";
    cables.missing.push_back({"cable_type", {"A", "B"}, std::nullopt});
    const auto settings = settings_text(job);
    const auto value = [&](const std::string& name) -> std::string {
        const auto found = std::find_if(settings.begin(), settings.end(),
                                        [&](const auto& s) { return s.first == name; });
        return found == settings.end() ? "(none)" : found->second;
    };
    EXPECT_EQ(value("rules.cmin"), "0.95");
    EXPECT_EQ(value("rules.power_factor"), "0.85 to 1");
    EXPECT_EQ(value("rules.assumed_source"), "undecided");
    EXPECT_EQ(value("network.snap_m"), "0.5");
    EXPECT_EQ(value("cables.where"), "A = 1");
    EXPECT_EQ(value("cables.missing.cable_type"), "A, B");
    for (const auto& [name, text] : settings) {
        EXPECT_EQ(text.find("some/where"), std::string::npos) << name;
        EXPECT_EQ(text.find("password"), std::string::npos) << name;
        EXPECT_EQ(text.find("records.gpkg"), std::string::npos) << name;
    }
}

/// Rows of the first table below the heading "Every key" of docs/job_file.md.
std::vector<std::string> documented_rows() {
    std::ifstream file(LOOPWALK_SOURCE_DIR "/docs/job_file.md");
    std::vector<std::string> rows;
    bool in_section = false;
    for (std::string line; std::getline(file, line);) {
        if (line.starts_with("## ")) {
            in_section = line == "## Every key";
        }
        if (in_section && line.starts_with("| `[")) {
            rows.push_back(line);
        }
    }
    return rows;
}

TEST(KeyList, TheDocumentedTableIsTheParsersOwn) {
    std::vector<std::string> rows;
    std::string all;
    for (const KeyInfo& key : key_list()) {
        rows.push_back("| `[" + key.table + "]` | `" + key.key + "` | " + key.type + " | " +
                       key.default_text + " | " + key.meaning + " |");
        all += rows.back() + "\n";
    }
    EXPECT_EQ(documented_rows(), rows) << "docs/job_file.md should have these rows:\n" << all;
}

TEST(KeyList, HasEveryRuleOfTheMethod) {
    const auto list = key_list();
    for (const std::string name : {"disconnection_s",
                                   "cut_out_disconnection_s",
                                   "vdrop_pct",
                                   "cmin",
                                   "cmax",
                                   "armour_ac_factor",
                                   "assumed_source",
                                   "voltage_v",
                                   "drawn_length_factor",
                                   "drawn_end_allowance_m",
                                   "ze_high_tn_c_s_ohm",
                                   "ze_high_tn_s_ohm",
                                   "ze_high_tt_ohm",
                                   "earth_exposure_columns",
                                   "pscc_service_ka",
                                   "power_factor",
                                   "load_w",
                                   "tail_beyond_height_m",
                                   "height_high_m",
                                   "tail_csa_mm2",
                                   "thin_margin",
                                   "load_point_w",
                                   "way_load_w",
                                   "earths_within_reach_m",
                                   "column_beside_column_m",
                                   "socket_disconnection_tn_s",
                                   "socket_disconnection_tt_s",
                                   "touch_voltage_v",
                                   "electrode_steady_ohm",
                                   "test_error_high_current_share",
                                   "test_error_high_current_ohm",
                                   "test_error_other_share",
                                   "test_error_other_ohm",
                                   "discrimination_gg_ratio",
                                   "discrimination_other_ratio"}) {
        EXPECT_TRUE(std::any_of(list.begin(), list.end(), [&](const KeyInfo& key) {
            return key.table == "rules" && key.key == name;
        })) << name;
    }
}

TEST(ContractFields, NeededOnesComeFirst) {
    const auto& ways = contract_fields(base::AssetLayer::ways);
    EXPECT_EQ(ways[0].name, "supply_id");
    EXPECT_TRUE(ways[0].needed && ways[1].needed && !ways[2].needed);
    const auto& columns = contract_fields(base::AssetLayer::columns);
    EXPECT_EQ(columns.size(), 23U); // counted in contract.md
    EXPECT_EQ(contract_fields(base::AssetLayer::supplies).size(), 20U);
    const auto load = std::find_if(columns.begin(), columns.end(),
                                   [](const FieldRule& r) { return r.name == "load_w"; });
    EXPECT_TRUE(load != columns.end() && load->is_number);
}

TEST(KeyList, EveryRuleSaysWhereItsDefaultComesFrom) {
    for (const KeyInfo& key : key_list()) {
        EXPECT_EQ(key.meaning.find(" Default: ") != std::string::npos, key.table == "rules")
            << key.key;
    }
}

} // namespace
} // namespace loopwalk::config
