// A page as text and as Markdown, written out by hand.
#include "loopwalk/report/page.hpp"

#include <gtest/gtest.h>

namespace loopwalk::report {
namespace {

Page sample() {
    Page page;
    page.title = "Column A_1";
    page.heading("Ohms");
    page.paragraph("Two sections.");
    page.add(Table{{{"no", Align::number}, {"cable"}, {"ohm", Align::number}},
                   {{"1", "C|1", "0.25"}, {"sum", "", "12.5"}}});
    page.add(Working{{"R = 1 + 2 = 3 ohm"}});
    page.add(Bullets{{"one", "two"}});
    return page;
}

TEST(AsText, EveryBlock) {
    EXPECT_EQ(as_text(sample()), "Column A_1\n"
                                 "==========\n"
                                 "\n"
                                 "Ohms\n"
                                 "----\n"
                                 "\n"
                                 "Two sections.\n"
                                 "\n"
                                 "   no  cable    ohm\n"
                                 "    1  C|1     0.25\n"
                                 "  sum         12.5\n"
                                 "\n"
                                 "    R = 1 + 2 = 3 ohm\n"
                                 "\n"
                                 "  - one\n"
                                 "  - two\n");
}

TEST(AsMarkdown, EveryBlockWithSignsOfItsOwnEscaped) {
    EXPECT_EQ(as_markdown(sample()), "# Column A\\_1\n"
                                     "\n"
                                     "## Ohms\n"
                                     "\n"
                                     "Two sections.\n"
                                     "\n"
                                     "| no | cable | ohm |\n"
                                     "|---:|---|---:|\n"
                                     "| 1 | C\\|1 | 0.25 |\n"
                                     "| sum |  | 12.5 |\n"
                                     "\n"
                                     "```text\n"
                                     "R = 1 + 2 = 3 ohm\n"
                                     "```\n"
                                     "\n"
                                     "- one\n"
                                     "- two\n");
}

TEST(AsText, LongSentencesAreBrokenAndLongWordsAreNot) {
    Page page;
    page.title = "T";
    const std::string word(60, 'w');
    page.paragraph(word + " " + word + " " + std::string(120, 'v') + " end");
    EXPECT_EQ(as_text(page),
              "T\n=\n\n" + word + "\n" + word + "\n" + std::string(120, 'v') + "\nend\n");
}

TEST(AsText, LongWorkingGoesOnAtItsSignsOfEquality) {
    Page page;
    page.title = "T";
    const std::string formula(50, 'f');
    page.add(Working{{"name = " + formula + " = " + std::string(40, '1') + " = 2 ohm"}});
    EXPECT_EQ(as_text(page),
              "T\n=\n\n    name = " + formula + "\n      = " + std::string(40, '1') + " = 2 ohm\n");
}

TEST(AsText, LettersOfSeveralBytesCountOnce) {
    Page page;
    page.title = "Stra\xC3\x9F"
                 "e";
    page.add(Table{{{"id"}, {"m", Align::number}}, {{"\xC3\x84", "1"}, {"AB", "2"}}});
    EXPECT_EQ(as_text(page), "Stra\xC3\x9F"
                             "e\n======\n\n  id  m\n  \xC3\x84   1\n  AB  2\n");
}

} // namespace
} // namespace loopwalk::report
