// Rows of a job's own tables beside those of a catalogue.
#include "tables.hpp"

namespace loopwalk::catalogue {
namespace {

std::string own_cable(const std::string& name, const std::string& description) {
    return kCableHeadings + "\n" + name + "," + description + "," + kCableValues + "\n";
}

/// A devices file of these rows.
std::string devices_of(const std::string& rows) {
    std::string text = "fuse_type,rating_a,breaking_ka,voltage_v,prearcing_i2t_a2s,total_i2t_a2s,";
    text += "source\n";
    return text.append(rows);
}

/// A curves file of these rows.
std::string curves_of(const std::string& rows) {
    std::string text = "fuse_type,rating_a,edge,current_a,time_s,source\n";
    return text.append(rows);
}

TEST(AddedTables, AddCablesAndOverrideThemByName) {
    const CatalogueText base = small_tables(); // one cable, "Twin"
    const Catalogue added =
        parse_catalogue(base, {{own_cable("Ours", "a new one"), "own.csv"}, {}, {}});
    ASSERT_EQ(added.cables().size(), 2U);
    EXPECT_TRUE(added.find_cable("Twin"));
    EXPECT_EQ(added.cable(*added.find_cable("ours")).description, "a new one");
    const Catalogue over =
        parse_catalogue(base, {{own_cable("TWIN", "overridden"), "own.csv"}, {}, {}});
    ASSERT_EQ(over.cables().size(), 1U);
    EXPECT_EQ(over.cables()[0].description, "overridden");
}

TEST(AddedTables, OverrideADeviceByRatingAndKeepItsCurve) {
    // "F" has 6 A (16 kA, two slow points) and 10 A.
    const std::string devices = devices_of("F,6,80,400,,,own\nF,8,,,,,own\n");
    const Catalogue catalogue = parse_catalogue(small_tables(), {{}, {devices, "own.csv"}, {}});
    ASSERT_EQ(catalogue.fuses().size(), 1U);
    const FuseType& f = catalogue.fuses()[0];
    ASSERT_EQ(f.ratings.size(), 3U);
    EXPECT_EQ(f.ratings[0].rating, Ampere(6.0));
    EXPECT_EQ(f.ratings[1].rating, Ampere(8.0));
    EXPECT_EQ(f.ratings[2].rating, Ampere(10.0));
    EXPECT_EQ(f.ratings[0].breaking_ka, Maybe(Number(80.0)));
    EXPECT_EQ(f.ratings[0].slow.size(), 2U);
}

TEST(AddedTables, OverrideAnEdgeAsAWhole) {
    const std::string curves = curves_of("F,6,slow,25,5,own\n");
    const Catalogue catalogue = parse_catalogue(small_tables(), {{}, {}, {curves, "own.csv"}});
    const FuseRating& six = catalogue.fuses()[0].ratings[0];
    ASSERT_EQ(six.slow.size(), 1U); // 20 A at 5 s and 30 A at 0.4 s are gone
    EXPECT_EQ(six.slow[0].current, Ampere(25.0));
}

TEST(AddedTables, RefuseWhatBelongsToNothingAndNameTheFile) {
    const std::string curves = curves_of("G,6,slow,25,5,own\n");
    try {
        (void)parse_catalogue(small_tables(), {{}, {}, {curves, "own.csv"}});
        ADD_FAILURE() << "a curve of no device is accepted";
    } catch (const base::ConfigError& e) {
        EXPECT_NE(std::string(e.what()).find("own.csv, line 2"), std::string::npos) << e.what();
    }
    const std::string twice = own_cable("A", "") + "A,," + kCableValues + "\n";
    EXPECT_THROW((void)parse_catalogue(small_tables(), {{twice, "own.csv"}, {}, {}}),
                 base::ConfigError);
}

} // namespace
} // namespace loopwalk::catalogue
