#include "loopwalk/base/error.hpp"
#include "loopwalk/catalogue/catalogue.hpp"

#include <gtest/gtest.h>

#include "unit/catalogue/tables.hpp"
#include <filesystem>
#include <fstream>

namespace loopwalk::catalogue {
namespace {

/// kCableValues with one text replaced.
std::string values_with(const std::string& from, const std::string& to) {
    std::string values = kCableValues;
    values.replace(values.find(from), from.size(), to);
    return values;
}

TEST(ParseCatalogue, ReadsEveryField) {
    const Catalogue catalogue = parse_catalogue(small_tables());
    const CableType& cable = catalogue.cables().at(0);
    EXPECT_EQ(cable.line.r20, OhmPerKm(12.1));
    EXPECT_EQ(cable.line.hot, base::Celsius(70.0));
    EXPECT_EQ(cable.cpc.value().r20, OhmPerKm(18.1));
    EXPECT_EQ(*cable.cpc.value().csa, base::SquareMillimetre(1.0));
    EXPECT_FALSE(cable.armour.has_value());
    EXPECT_EQ(cable.earth_path, EarthPath::cpc);
    EXPECT_EQ(*cable.ampacity, Ampere(20.0));
    const FuseType& fuse = catalogue.fuses().at(0);
    EXPECT_EQ(fuse.kind, FuseKind::fuse);
    EXPECT_EQ(*fuse.rating(Ampere(6.0))->breaking_ka, Number(16.0));
    EXPECT_FALSE(fuse.rating(Ampere(10.0))->breaking_ka.has_value());
    EXPECT_EQ(fuse.rating(Ampere(6.0))->slow.size(), 2U);
    EXPECT_EQ(fuse.rating(Ampere(8.0)), nullptr);
}

TEST(ParseCatalogue, FindsNamesWithoutCaseAndBlanks) {
    const Catalogue catalogue = parse_catalogue(small_tables());
    EXPECT_TRUE(catalogue.find_cable(" TWIN ").has_value());
    EXPECT_FALSE(catalogue.find_cable("Twi").has_value());
    EXPECT_TRUE(catalogue.find_fuse("f").has_value());
}

TEST(ParseCatalogue, UseFollowsFromTheEarthPathIfNotGiven) {
    CatalogueText text = small_tables();
    text.cables =
        kCableHeadings + "\nA,," + kCableValues + "\nB,," + values_with("cpc,20", "none,20") + "\n";
    const Catalogue catalogue = parse_catalogue(text);
    EXPECT_EQ(catalogue.cables().at(0).use, CableUse::circuit);
    EXPECT_EQ(catalogue.cables().at(1).use, CableUse::tail);
    EXPECT_EQ(catalogue.cables().at(0).cores, 0);
}

TEST(ParseCatalogue, FaultyCables) {
    const std::string where = "line 2";
    expect_cable_fault("T,," + values_with("12.1,0", "0,0"), {where, "line_r20_ohm_km", "above 0"});
    expect_cable_fault("T,," + values_with("12.1,0", "-1,0"), {where, "line_r20_ohm_km"});
    expect_cable_fault("T,," + values_with("12.1,0", ",0"), {where, "line_r20_ohm_km", "blank"});
    expect_cable_fault("T,," + values_with("12.1,0", "12.1,-0.1"), {where, "line_x_ohm_km"});
    expect_cable_fault("T,," + values_with("12.1,0", "12.1,"), {where, "line_x_ohm_km", "blank"});
    expect_cable_fault("T,," + values_with("12.1,0", "12 mm,0"), {where, "\"12 mm\"", "number"});
    expect_cable_fault("T,," + values_with("12.1,0", "nan,0"), {where, "\"nan\"", "number"});
    expect_cable_fault("T,," + values_with("0.00393,70", "-0.1,70"), {where, "line_alpha"});
    expect_cable_fault("T,," + values_with("0.00393,70", "0.00393,-5"), {where, "line_c"});
    expect_cable_fault("T,," + values_with("1.5,115", "0,115"), {where, "line_csa_mm2"});
    expect_cable_fault("T,," + values_with("18.1,0", ",0"), {where, "cpc_r20_ohm_km", "blank"});
    expect_cable_fault("T,," + values_with("cpc,20", "armour,20"), {where, "earth_path", "armour"});
    expect_cable_fault("T,," + values_with("cpc,20", "armour+cpc,20"), {where, "armour"});
    expect_cable_fault("T,," + values_with("cpc,20", "sheath,20"), {where, "\"sheath\"", "none"});
    expect_cable_fault("T,," + values_with("cpc,20", ",20"), {where, "earth_path", "blank"});
    expect_cable_fault("T,," + values_with("cpc,20", "cpc,0"), {where, "ampacity_a"});
    expect_cable_fault(",," + kCableValues, {where, "cable_type", "blank"});
    expect_cable_fault("T,," + kCableValues + "\n t ,," + kCableValues,
                       {"line 3", "\"t\"", "twice"});
}

TEST(ParseCatalogue, ReadsTheLeastOfARange) {
    CatalogueText text = small_tables();
    text.cables = kCableHeadings + ",cpc_r20_low_ohm_km\nA,," + kCableValues + ",9\nB,," +
                  kCableValues + ",\n";
    const Catalogue catalogue = parse_catalogue(text);
    EXPECT_EQ(*catalogue.cables()[0].cpc.value().r20_low, OhmPerKm(9.0));
    EXPECT_TRUE(catalogue.cables()[0].cpc->is_range());
    EXPECT_FALSE(catalogue.cables()[1].cpc.value().is_range());
    text.cables = kCableHeadings + ",cpc_r20_low_ohm_km\nA,," + kCableValues + ",19\n";
    expect_fault(text, {"line 2", "cpc_r20_low_ohm_km", "above cpc_r20_ohm_km"});
    text.cables = kCableHeadings + ",armour_r20_low_ohm_km\nA,," + kCableValues + ",19\n";
    expect_fault(text, {"line 2", "armour_r20_ohm_km", "blank although"});
}

TEST(ParseCatalogue, FaultyDevices) {
    const auto fault = [](const std::string& row, const std::vector<std::string>& parts) {
        CatalogueText text = small_tables();
        text.devices += row + "\n";
        expect_fault(text, parts);
    };
    fault("F,6.0,,,,,a test", {"devices.csv", "line 4", "F of 6 A", "twice"});
    fault("F,0,,,,,a test", {"devices.csv", "line 4", "rating_a"});
    fault("F,,,,,,a test", {"devices.csv", "line 4", "rating_a", "blank"});
    fault("F,16,0,,,,a test", {"devices.csv", "line 4", "breaking_ka"});
    fault("F,16,,,20,10,a test", {"devices.csv", "line 4", "total_i2t_a2s"});
    fault(",16,,,,,a test", {"devices.csv", "line 4", "fuse_type"});
}

TEST(ParseCatalogue, FaultyCurves) {
    const auto fault = [](const std::string& row, const std::vector<std::string>& parts) {
        CatalogueText text = small_tables();
        text.curves += row + "\n";
        expect_fault(text, parts);
    };
    fault("F,6,slow,40,0.5,a test", {"curves.csv", "line 4", "falls", "line 3"});
    fault("F,6,slow,20,5,a test", {"curves.csv", "line 4", "same point", "line 2"});
    fault("F,6,slow,40,0,a test", {"curves.csv", "line 4", "time_s"});
    fault("F,6,slow,,1,a test", {"curves.csv", "line 4", "current_a"});
    fault("F,6,middle,40,0.1,a test", {"curves.csv", "line 4", "\"middle\"", "slow, fast"});
    fault("F,6,,40,0.1,a test", {"curves.csv", "line 4", "edge", "blank"});
    fault("F,16,slow,90,0.4,a test", {"curves.csv", "line 4", "\"F\" of 16 A"});
    fault("G,6,slow,90,0.4,a test", {"curves.csv", "line 4", "\"G\" of 6 A"});
}

TEST(ParseCatalogue, CurvesMayStandInAnyOrderAndStep) {
    CatalogueText text = small_tables();
    text.curves = "fuse_type,rating_a,edge,current_a,time_s,source\nF,6,slow,30,0.1,a test\n"
                  "F,6,slow,20,5,a test\nF,6,fast,15,0.1,a test\nF,6,slow,30,5,a test\n";
    const Catalogue catalogue = parse_catalogue(text);
    const FuseRating& rating = *catalogue.fuses().at(0).rating(Ampere(6.0));
    ASSERT_EQ(rating.slow.size(), 3U);
    EXPECT_EQ(rating.slow[1].time, Second(5.0));
    EXPECT_EQ(rating.slow[2].time, Second(0.1));
    EXPECT_EQ(rating.fast.size(), 1U);
}

TEST(ParseCatalogue, BuiltInCurvesServeAShorterListOfDevices) {
    CatalogueText text = built_in_text();
    text.devices = "fuse_type,rating_a,breaking_ka,voltage_v,prearcing_i2t_a2s,total_i2t_a2s,"
                   "source\nBS 88-3,16,,,,,a test\n";
    const Catalogue catalogue = parse_catalogue(text);
    ASSERT_EQ(catalogue.fuses().size(), 1U);
    EXPECT_FALSE(catalogue.fuses()[0].ratings.at(0).slow.empty());
}

TEST(ReadCatalogueFile, ReadsAFileAndRefusesWhatIsNone) {
    const std::filesystem::path folder = ::testing::TempDir();
    const std::string path = (folder / "loopwalk_catalogue_test.csv").string();
    std::ofstream(path, std::ios::binary) << "a,b\r\n1,2\r\n";
    EXPECT_EQ(read_catalogue_file(path), "a,b\r\n1,2\r\n");
    std::ofstream(path, std::ios::binary | std::ios::trunc).flush();
    EXPECT_EQ(read_catalogue_file(path), "");
    std::filesystem::remove(path);
    EXPECT_THROW((void)read_catalogue_file(path), base::ConfigError);
    EXPECT_THROW((void)read_catalogue_file(folder.string()), base::ConfigError);
}

} // namespace
} // namespace loopwalk::catalogue
