#include "loopwalk/base/text.hpp"
#include "loopwalk/base/written_number.hpp"

#include <gtest/gtest.h>

namespace loopwalk::base {
namespace {

using State = WrittenNumber::State;

/// "12 m", "1.5 comma", "1200 groups", "ambiguous", "none".
std::string brief(const char* text, DecimalMark mark = DecimalMark::unstated) {
    const WrittenNumber n = read_written_number(text, mark);
    if (n.state != State::number) {
        return n.state == State::ambiguous ? "ambiguous" : "none";
    }
    return number_text(n.value) + (n.unit != nullptr ? " " + std::string(n.unit->name) : "") +
           (n.has_comma ? " comma" : "") + (n.has_groups ? " groups" : "");
}

TEST(WrittenNumber, ReadsPlainNumbersAndUnits) {
    EXPECT_EQ(brief("12"), "12");
    EXPECT_EQ(brief(" -0.5 "), "-0.5");
    EXPECT_EQ(brief("1e3"), "1000");
    EXPECT_EQ(brief("12.5 m"), "12.5 m");
    EXPECT_EQ(brief("12m"), "12 m");
    EXPECT_EQ(brief("-3 V"), "-3 V");
    EXPECT_EQ(brief("150W"), "150 W");
    EXPECT_EQ(brief("10 Amps"), "10 A");
    EXPECT_EQ(brief("40'"), "40 ft");
    EXPECT_EQ(brief(".0225 sq. in"), "0.0225 sq in");
    EXPECT_EQ(brief("12."), "12");
    EXPECT_EQ(brief("7/.029").substr(0, 4), "2.98"); // 2.983 mm2
}

TEST(WrittenNumber, ReadsCommasAndGroupsThatCanBeNothingElse) {
    EXPECT_EQ(brief("3,5"), "3.5 comma");
    EXPECT_EQ(brief("12,25 m"), "12.25 m comma");
    EXPECT_EQ(brief("0,125"), "0.125 comma");
    EXPECT_EQ(brief("1234,567"), "1234.567 comma");
    EXPECT_EQ(brief("1.200,5"), "1200.5 comma groups");
    EXPECT_EQ(brief("1,200.5"), "1200.5 groups");
    EXPECT_EQ(brief("1,200,300"), "1200300 groups");
    EXPECT_EQ(brief("1 200"), "1200 groups");
    EXPECT_EQ(brief("1\xC2\xA0"
                    "200,5"),
              "1200.5 comma groups");
    EXPECT_EQ(brief("1'200"), "1200 groups");
}

TEST(WrittenNumber, LeavesOpenWhatCouldBeTwoNumbers) {
    EXPECT_EQ(brief("1,200"), "ambiguous");
    EXPECT_EQ(brief("12,500 m").substr(0, 9), "ambiguous");
    EXPECT_EQ(brief("1,200", DecimalMark::comma), "1.2 comma");
    EXPECT_EQ(brief("1,200", DecimalMark::point), "1200 groups");
    EXPECT_EQ(brief("1.200", DecimalMark::comma), "1200 groups");
    EXPECT_EQ(brief("1.5", DecimalMark::comma), "1.5"); // no group
    EXPECT_EQ(brief("1.200"), "1.2");
    EXPECT_EQ(brief("12,50", DecimalMark::point), "12.5 comma"); // no group either
}

TEST(WrittenNumber, RefusesWhatIsNoNumber) {
    for (const char* text :
         {"",           "approx 12", "~12",      "10-12", ">5",  "n/a", "m",      "12 furlongs",
          "6mm 2c SWA", "1 20",      "1,20,300", "1.2.3", "1 2", "--1", "12 m 5", "nan",
          "3x2.5",      "£5",        ",",        "."}) {
        EXPECT_EQ(brief(text), "none") << text;
    }
}

TEST(Pattern, MatchesTheWholeTextWithoutCase) {
    EXPECT_TRUE(matches_pattern("6mm*2c*SWA", "6MM 2C SWA"));
    EXPECT_TRUE(matches_pattern("6mm*2c*SWA", "6mm swa 2c x swa"));
    EXPECT_FALSE(matches_pattern("6mm*2c*SWA", "6mm 2c SWA old"));
    EXPECT_FALSE(matches_pattern("6mm*2c*SWA", "16mm 2c SWA"));
    EXPECT_TRUE(matches_pattern("a  b", " A \t B "));
    EXPECT_TRUE(matches_pattern("?", "ä"));
    EXPECT_FALSE(matches_pattern("?", ""));
    EXPECT_FALSE(matches_pattern("?", "ab"));
    EXPECT_TRUE(matches_pattern("[?]", "?"));
    EXPECT_FALSE(matches_pattern("[?]", "a"));
    EXPECT_TRUE(matches_pattern("a[*]b", "a*b"));
    EXPECT_FALSE(matches_pattern("a[*]b", "axb"));
    EXPECT_TRUE(matches_pattern("*", ""));
    EXPECT_TRUE(matches_pattern("**", "x"));
    EXPECT_FALSE(matches_pattern("", "x"));
    EXPECT_TRUE(matches_pattern("*ab*abc", "xababzabc"));
    EXPECT_FALSE(matches_pattern("*ab*abc", "xababzab"));
}

TEST(Pattern, LongTextsAreDecidedQuickly) {
    const std::string text(5000, 'a');
    EXPECT_FALSE(matches_pattern("*a*a*a*a*a*a*a*a*b", text)); // exponential if done by trying all
}

} // namespace
} // namespace loopwalk::base
