#include "loopwalk/base/text.hpp"

#include <gtest/gtest.h>

namespace loopwalk::base {

TEST(Printable, LeavesWhatIsReadAsItIs) {
    for (const char* text :
         {"", "Mill Lane 7", "two\nlines\tand a tab", "caf\xC3\xA9 \xE2\x82\xAC 5",
          "\xD8\xB9\xD9\x85\xD9\x88\xD8\xAF", // Arabic has its own direction
          "\xF0\x9F\x92\xA1", "\xEF\xBF\xBD", "back\\slash"}) {
        EXPECT_EQ(printable(text), text);
    }
}

// ECMA-48: escape sequences begin with 1B or, in C1, 9B.
TEST(Printable, ShowsWhatWouldMoveTheCursor) {
    EXPECT_EQ(printable("a\x1B[2Jb"), "a\\x1B[2Jb");
    EXPECT_EQ(printable("over\rwritten\b\x7F"), "over\\x0Dwritten\\x08\\x7F");
    EXPECT_EQ(printable("\xC2\x9B"
                        "2J"),
              "\\u{9B}2J");
    EXPECT_EQ(printable(std::string_view("\0", 1)), "\\x00");
}

// Unicode Standard Annex 9: the marks that turn the direction of writing.
TEST(Printable, ShowsWhatWouldTurnALineRound) {
    EXPECT_EQ(printable("\xE2\x80\xAE"
                        "kcatta"),
              "\\u{202E}kcatta");                                           // override
    EXPECT_EQ(printable("\xE2\x81\xA6\xE2\x81\xA9"), "\\u{2066}\\u{2069}"); // isolates
    EXPECT_EQ(printable("\xE2\x80\x8E\xE2\x80\x8F\xD8\x9C"), "\\u{200E}\\u{200F}\\u{61C}");
    EXPECT_EQ(printable("C\xE2\x80\x8B"
                        "1\xC2\xAD\xEF\xBB\xBF"),
              "C\\u{200B}1\\u{AD}\\u{FEFF}");
    EXPECT_EQ(printable("\xE2\x80\xA8"), "\\u{2028}"); // line separator
}

// RFC 3629, clauses 3 and 10: octets that never appear, overlong forms, surrogates, beyond 10FFFF.
TEST(Printable, ShowsBytesThatAreNoUtf8) {
    EXPECT_EQ(printable("stra\xDF"
                        "e"),
              "stra\\xDFe"); // Latin-1
    EXPECT_EQ(printable("\xC0\x9B"), "\\xC0\\x9B");
    EXPECT_EQ(printable("\xE0\x81\x81"), "\\xE0\\x81\\x81"); // "A" in three bytes
    EXPECT_EQ(printable("\xF0\x82\x82\xAC"), "\\xF0\\x82\\x82\\xAC");
    EXPECT_EQ(printable("\xED\xA0\x80"), "\\xED\\xA0\\x80");
    EXPECT_EQ(printable("\xF4\x90\x80\x80"), "\\xF4\\x90\\x80\\x80");
    EXPECT_EQ(printable("cut \xE2\x82"), "cut \\xE2\\x82");
    EXPECT_EQ(printable("\xE2\x82"
                        "A\xFF"),
              "\\xE2\\x82A\\xFF");
}

} // namespace loopwalk::base
