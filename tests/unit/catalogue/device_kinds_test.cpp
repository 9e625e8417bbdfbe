// What a device is, as columns of devices.csv: stated, left blank, or not there at all.
#include "unit/catalogue/tables.hpp"

namespace loopwalk::catalogue {
namespace {

const std::string kOldHeadings =
    "fuse_type,rating_a,breaking_ka,voltage_v,prearcing_i2t_a2s,total_i2t_a2s,source";
const std::string kNewHeadings = kOldHeadings + ",kind,gg,current_limiting,holder,overload_factor";

/// The built-in catalogue with these devices added.
Catalogue with(const std::string& headings, const std::string& rows) {
    return parse_catalogue(built_in_text(), {{}, {headings + "\n" + rows, "own.csv"}, {}});
}

const FuseType& type_of(const Catalogue& catalogue, const char* name) {
    return catalogue.fuse(catalogue.find_fuse(name).value());
}

TEST(DeviceKinds, AreReadFromTheirColumns) {
    const Catalogue catalogue =
        with(kNewHeadings, "Works,20,10,230,,,made up,Fuse,YES,yes,small,0.8\n"
                           "Works,30,10,230,,,made up,,,,large,0.9\n"
                           "Works trip,6,6,230,,,made up,breaker,,,,\n"
                           "Works bridge,,,,,,made up,link,,,,\n");
    const FuseType& works = type_of(catalogue, "works");
    EXPECT_EQ(works.kind, FuseKind::fuse);
    EXPECT_TRUE(works.is_gg);
    EXPECT_TRUE(works.is_current_limiting);
    EXPECT_EQ(works.rating(Ampere(20))->holder, "small");
    EXPECT_EQ(works.rating(Ampere(30))->overload_factor,
              base::Bounds<Number>::exactly(Number(0.9)));
    const FuseType& trip = type_of(catalogue, "Works trip");
    EXPECT_EQ(trip.kind, FuseKind::breaker);
    EXPECT_FALSE(trip.is_current_limiting);
    EXPECT_EQ(trip.ratings[0].overload_factor, base::Bounds<Number>::exactly(Number(1.0)));
    EXPECT_EQ(type_of(catalogue, "Works bridge").kind, FuseKind::link);
    EXPECT_TRUE(type_of(catalogue, "Works bridge").ratings.empty());
}

TEST(DeviceKinds, OfAFileWithoutTheColumns) {
    // Of a name that nobody knows the unfavourable; of a known one what the built-in table says.
    const Catalogue catalogue = with(kOldHeadings, "Works,20,10,230,,,made up\n"
                                                   "MCB Z,6,6,230,,,made up\n"
                                                   "BS 88-2,18,80,400,,,made up\n"
                                                   "BS 1361,20,33,240,,,made up\n");
    const FuseType& works = type_of(catalogue, "Works");
    EXPECT_EQ(works.kind, FuseKind::fuse);
    EXPECT_FALSE(works.is_gg);
    EXPECT_FALSE(works.is_current_limiting);
    EXPECT_TRUE(works.ratings[0].holder.empty());
    EXPECT_EQ(works.ratings[0].overload_factor, kUnknownOverloadFactor);
    EXPECT_EQ(type_of(catalogue, "MCB Z").kind, FuseKind::breaker);
    EXPECT_TRUE(type_of(catalogue, "BS 88-2").is_gg);
    EXPECT_EQ(type_of(catalogue, "BS 88-2").rating(Ampere(18))->overload_factor,
              base::Bounds<Number>::exactly(Number(1.0)));
    EXPECT_EQ(type_of(catalogue, "BS 1361").rating(Ampere(20))->holder, "26x10");
}

TEST(DeviceKinds, OfAFileThatReplacesTheTable) {
    CatalogueText text = built_in_text();
    text.devices = kOldHeadings + "\nBS 3036,30,2,,,,made up\nBS 88-3,16,16,230,,,made up\n";
    const Catalogue catalogue = parse_catalogue(text);
    ASSERT_EQ(catalogue.fuses().size(), 2U);
    EXPECT_EQ(type_of(catalogue, "BS 3036").ratings[0].overload_factor,
              base::Bounds<Number>::exactly(Number(0.725)));
    EXPECT_TRUE(type_of(catalogue, "BS 88-3").is_current_limiting);
}

TEST(DeviceKinds, ThatContradictThemselvesAreRefused) {
    const auto fault = [](const std::string& rows, const std::vector<std::string>& parts) {
        CatalogueText text = small_tables();
        text.devices = kNewHeadings + "\nF,6,,,,,x,,,,,\nF,10,,,,,x,fuse,no,no,,\n" + rows + "\n";
        expect_fault(text, parts);
    };
    fault("F,16,,,,,x,breaker,,,,", {"line 4", "kind", "otherwise"});
    fault("F,16,,,,,x,,yes,,,", {"line 4", "gg", "otherwise"});
    fault("G,16,,,,,x,breaker,yes,,,", {"line 4", "gg", "only a fuse"});
    fault("G,16,,,,,x,switch,,,,", {"line 4", "\"switch\"", "fuse, breaker, link"});
    fault("G,16,,,,,x,,,maybe,,", {"line 4", "\"maybe\"", "no, yes"});
    fault("G,16,,,,,x,,,,,1.2", {"line 4", "overload_factor", "at most 1"});
    fault("G,,,,,,x,fuse,,,,", {"line 4", "rating_a", "blank"});
}

} // namespace
} // namespace loopwalk::catalogue
