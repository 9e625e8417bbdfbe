// Numbers as they are written: the text must say what the value is. Expected values by hand.
#include "loopwalk/base/error.hpp"
#include "loopwalk/report/term.hpp"

#include <gtest/gtest.h>

namespace loopwalk::report {
namespace {

TEST(Written, ExactWhereFiveDigitsSayIt) {
    EXPECT_EQ(written(0.35), "0.35");
    EXPECT_EQ(written(230.0), "230");
    EXPECT_EQ(written(0.0), "0");
    EXPECT_EQ(written(-1.5), "-1.5");
    EXPECT_EQ(written(0.00393), "0.00393");
}

TEST(Written, ElseSixDigits) {
    EXPECT_EQ(written(1.0 / 3.0), "0.333333");
    EXPECT_EQ(written(2.0 / 3.0), "0.666667");
    EXPECT_EQ(written(1234.5678), "1234.57");
    EXPECT_EQ(written(1234567.8), "1234568");
    EXPECT_EQ(written(0.001234567), "0.00123457");
}

TEST(Written, NoDigitIsCutOffWhereRoundingCarries) {
    EXPECT_EQ(written(9.9999996), "10.00000");
    EXPECT_EQ(written(0.1 + 0.2), "0.300000") << "not exactly 0.3, so six digits";
}

TEST(Written, FineHasSevenDecimals) {
    EXPECT_EQ(written_fine(229.12345678), "229.1234568");
    EXPECT_EQ(written_fine(230.0), "230");
}

TEST(Written, WhatIsNotANumberIsAFault) {
    EXPECT_THROW((void)written(std::numeric_limits<double>::quiet_NaN()), base::InternalError);
    EXPECT_THROW((void)written(std::numeric_limits<double>::infinity()), base::InternalError);
}

TEST(Term, DoesTheSumAndWritesItDown) {
    const Term zs = Term(0.35) + magnitude(3.0, 4.0);
    EXPECT_DOUBLE_EQ(zs.value(), 5.35);
    EXPECT_EQ(zs.text(), "0.35 + sqrt(3^2 + 4^2)");
    const Term current = Term(0.95) * Term(230.0) / zs;
    EXPECT_DOUBLE_EQ(current.value(), 0.95 * 230.0 / 5.35);
    EXPECT_EQ(current.text(), "0.95 * 230 / (0.35 + sqrt(3^2 + 4^2))");
}

TEST(Term, BracketsWhereTheOrderNeedsThem) {
    EXPECT_EQ(((Term(1.0) + Term(2.0)) * Term(3.0)).text(), "(1 + 2) * 3");
    EXPECT_EQ((Term(1.0) - (Term(2.0) + Term(3.0))).text(), "1 - (2 + 3)");
    EXPECT_EQ((Term(6.0) / (Term(2.0) * Term(3.0))).text(), "6 / (2 * 3)");
    EXPECT_EQ((Term(2.0) * (Term(6.0) / Term(3.0))).text(), "2 * 6 / 3");
    EXPECT_EQ(power(Term(1.0) / Term(2.0), Term(3.0)).text(), "(1 / 2)^3");
}

TEST(Term, NegativeNumbersStandInBrackets) {
    EXPECT_EQ((Term(1.0) + Term(-2.0)).text(), "1 + (-2)");
    EXPECT_EQ((Term(-1.0) * Term(2.0)).text(), "(-1) * 2");
    EXPECT_EQ(magnitude(-3.0, 4.0).text(), "sqrt((-3)^2 + 4^2)");
    EXPECT_DOUBLE_EQ(magnitude(-3.0, 4.0).value(), 5.0);
}

TEST(Term, LargestAndSmallest) {
    EXPECT_EQ(largest({2.0, 5.0, 3.0}).text(), "max(2, 5, 3)");
    EXPECT_DOUBLE_EQ(largest({2.0, 5.0, 3.0}).value(), 5.0);
    EXPECT_DOUBLE_EQ(smallest({2.0, 5.0, 3.0}).value(), 2.0);
    EXPECT_EQ(smallest({7.0}).text(), "7");
}

TEST(WorkingLines, LeaveOutWhatWouldBeSaidTwice) {
    Page page;
    WorkingLines lines;
    lines.line("Ia", "point of the table", 55.0, "A");
    lines.line("Zs limit", "Cmin * U0 / Ia", Term(0.95) * Term(230.0) / Term(55.0), "ohm");
    lines.line("margin", "", Term(3.0) / Term(2.0), "");
    lines.put_on(page);
    const auto& working = std::get<Working>(page.blocks.at(0));
    EXPECT_EQ(working.lines.at(0), "Ia = point of the table = 55 A");
    EXPECT_EQ(working.lines.at(1), "Zs limit = Cmin * U0 / Ia = 0.95 * 230 / 55 = 3.97273 ohm");
    EXPECT_EQ(working.lines.at(2), "margin = 3 / 2 = 1.5");
}

TEST(WorkingLines, NoLinesNoBlock) {
    Page page;
    WorkingLines().put_on(page);
    EXPECT_TRUE(page.blocks.empty());
}

TEST(MustAgree, RefusesADifference) {
    EXPECT_NO_THROW(must_agree(1.0, 1.0 + 1e-12, "x"));
    EXPECT_THROW(must_agree(1.0, 1.0 + 1e-8, "x"), base::InternalError);
    EXPECT_THROW(must_agree(0.0, 1.0, "x"), base::InternalError);
    EXPECT_THROW(must_agree(std::numeric_limits<double>::quiet_NaN(), 1.0, "x"),
                 base::InternalError);
}

} // namespace
} // namespace loopwalk::report
