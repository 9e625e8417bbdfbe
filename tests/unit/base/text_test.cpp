#include "loopwalk/base/text.hpp"

#include <gtest/gtest.h>

#include <clocale>
#include <fstream>
#include <iostream>
#include <limits>
#include <locale>
#include <sstream>

namespace loopwalk::base {
namespace {

TEST(Text, WordsAreComparedWithoutCaseAndOuterBlanks) {
    EXPECT_EQ(trimmed(" \t TN-C-S\r\n"), "TN-C-S");
    EXPECT_EQ(trimmed(" \t "), "");
    EXPECT_EQ(folded("  Group Switched "), "group switched");
    EXPECT_TRUE(same_word(" bs 88-2", "BS 88-2 "));
    EXPECT_FALSE(same_word("BS 88-2", "BS 88-3"));
    EXPECT_FALSE(same_word("BS 88", "BS 88-3"));
    EXPECT_TRUE(same_word("", "  "));
}

TEST(Text, ParsesWholeNumbersOnly) {
    EXPECT_EQ(parse_number("3.08"), 3.08);
    EXPECT_EQ(parse_number("  -12 "), -12.0);
    EXPECT_EQ(parse_number("+7"), 7.0);
    EXPECT_EQ(parse_number("1e3"), 1000.0);
    EXPECT_EQ(parse_number(".5"), 0.5);
    for (const char* bad : {"", "  ", "6 mm", "1,5", "nan", "inf", "-infinity", "1e999", "0x10",
                            "+-5", "+", "-", "--1", "1.2.3", "1 2", "\xC2\xBD"}) {
        EXPECT_FALSE(parse_number(bad).has_value()) << "'" << bad << "'";
    }
}

TEST(Text, NumbersReadBackTheSame) {
    for (const double value : {0.1, 1.0 / 3.0, 1e21, 5e-324, 123456.789, 1.7976931348623157e308}) {
        EXPECT_EQ(parse_number(number_text(value)), value);
    }
    EXPECT_EQ(number_text(0.35), "0.35");
    EXPECT_EQ(number_text(100000.0), "100000");
    EXPECT_EQ(number_text(-0.0), "0");
    EXPECT_EQ(number_text(1e21), "1e+21");
}

TEST(Text, FixedDecimals) {
    EXPECT_EQ(fixed_text(3.1, 2), "3.10");
    EXPECT_EQ(fixed_text(-3.149, 1), "-3.1");
    EXPECT_EQ(fixed_text(-0.001, 2), "0.00");
    EXPECT_EQ(fixed_text(1240.0, 0), "1240");
    EXPECT_EQ(fixed_text(1e300, 0).size(), 301U);
}

TEST(Text, ShortTexts) {
    EXPECT_EQ(short_text(0.35), "0.35");
    EXPECT_EQ(short_text(1240.0), "1240");
    EXPECT_EQ(short_text(12346.0), "12350");
    EXPECT_EQ(short_text(2.0 / 3.0), "0.6667");
    EXPECT_EQ(short_text(2.0 / 3.0, 2), "0.67");
    EXPECT_EQ(short_text(0.0), "0");
    EXPECT_EQ(short_text(-9.9999), "-10");
    EXPECT_EQ(short_text(std::numeric_limits<double>::infinity()), "inf");
}

/// A locale with comma and grouping, as on a continental desktop.
struct CommaPunctuation : std::numpunct<char> {
    char do_decimal_point() const override { return ','; }
    char do_thousands_sep() const override { return '.'; }
    std::string do_grouping() const override { return "\3"; }
};

TEST(Text, NoLocaleChangesANumber) {
    const std::locale before =
        std::locale::global(std::locale(std::locale(), new CommaPunctuation));
    const std::string c_before = std::setlocale(LC_ALL, nullptr);
    const char* found = nullptr;
    for (const char* name : {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "nl_NL.UTF-8"}) {
        found = found ? found : std::setlocale(LC_ALL, name);
    }
    if (!found) {
        std::cout << "no C locale with a decimal comma is installed: only the C++ one is tried\n";
    }
    EXPECT_EQ(parse_number("1234.5"), 1234.5);
    EXPECT_FALSE(parse_number("1234,5").has_value());
    EXPECT_EQ(number_text(1234.5), "1234.5");
    EXPECT_EQ(fixed_text(1234.5, 2), "1234.50");
    EXPECT_EQ(short_text(1234.5, 5), "1234.5");
    std::setlocale(LC_ALL, c_before.c_str());
    std::locale::global(before);
}

TEST(Text, EditDistance) {
    EXPECT_EQ(edit_distance("kitten", "sitting"), 3U); // the textbook example (Levenshtein)
    EXPECT_EQ(edit_distance("", "abc"), 3U);
    EXPECT_EQ(edit_distance("Snap_M", "snap_m"), 0U);
    EXPECT_EQ(nearest_word("snap", {"reach_m", "snap_m", "crs"}), "snap_m");
    EXPECT_EQ(nearest_word("snap", {}), "");
}

TEST(Text, Listed) {
    EXPECT_EQ(listed({"a", "b", "c", "d", "e", "f", "g"}, 3), "a, b, c and 4 more");
    EXPECT_EQ(listed({"a", "b"}, 3), "a, b");
    EXPECT_EQ(listed({}, 3), "");
}

TEST(Text, VersionIsTheProjects) {
    EXPECT_FALSE(program_version().empty());
}

} // namespace
} // namespace loopwalk::base
