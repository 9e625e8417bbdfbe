// The reader of comma-separated text, seen through parse_catalogue(): what RFC 4180 allows is
// read, what it does not is told with file and line.
#include "loopwalk/base/error.hpp"
#include "loopwalk/catalogue/catalogue.hpp"

#include <gtest/gtest.h>

#include "unit/catalogue/tables.hpp"

namespace loopwalk::catalogue {
namespace {

TEST(CatalogueCsv, QuotesCommasAndLineBreaks) {
    CatalogueText text = small_tables();
    text.cables = kCableHeadings + "\n\"Twin, \"\"best\"\"\",\"two\nlines\"," + kCableValues + "\n";
    const Catalogue catalogue = parse_catalogue(text);
    EXPECT_EQ(catalogue.cables().at(0).name, "Twin, \"best\"");
    EXPECT_EQ(catalogue.cables().at(0).description, "two\nlines");
}

TEST(CatalogueCsv, ByteOrderMarkAndCarriageReturns) {
    CatalogueText text = small_tables();
    text.cables = "\xEF\xBB\xBF" + kCableHeadings + "\r\nTwin,," + kCableValues +
                  "\r\n\r\nTwin 2,," + kCableValues;
    const Catalogue catalogue = parse_catalogue(text);
    ASSERT_EQ(catalogue.cables().size(), 2U);
    EXPECT_EQ(catalogue.cables()[1].name, "Twin 2");
    EXPECT_EQ(catalogue.cables()[1].source, "a test");
}

TEST(CatalogueCsv, HeadingsInAnyOrderAndCaseWithExtras) {
    CatalogueText text = small_tables();
    text.devices = "source,note, RATING_A ,fuse_type,breaking_ka,voltage_v,prearcing_i2t_a2s,"
                   "total_i2t_a2s\na test,x,6,F,,,,\na test,x,10,F,,,,\n";
    EXPECT_EQ(parse_catalogue(text).fuses().at(0).ratings.size(), 2U);
}

TEST(CatalogueCsv, FaultsNameFileAndLine) {
    expect_cable_fault("Twin,\"never closed," + kCableValues, {"cables.csv", "line 2", "quote"});
    expect_cable_fault("Tw\"in,," + kCableValues, {"cables.csv", "line 2", "quote"});
    expect_cable_fault("\"Twin\"x,," + kCableValues, {"cables.csv", "line 2", "quote"});
    expect_cable_fault("Twin," + kCableValues,
                       {"cables.csv", "line 2", "29 fields", "headings 30"});
    // A row after a field with a line break stands one line further down.
    expect_cable_fault("Twin,\"two\nlines\"," + kCableValues + "\nTwin," + kCableValues,
                       {"cables.csv", "line 4"});
}

TEST(CatalogueCsv, FaultyHeadings) {
    CatalogueText text = small_tables();
    text.curves = "fuse_type,rating_a,edge,current,time_s,source\n";
    expect_fault(text, {"curves.csv", "\"current_a\"", "\"current\""});
    text.curves = "fuse_type,rating_a,edge,current_a,time_s,source,Edge\n";
    expect_fault(text, {"curves.csv", "Edge", "twice"});
    text.curves = "";
    expect_fault(text, {"curves.csv", "empty"});
}

} // namespace
} // namespace loopwalk::catalogue
