#include "loopwalk/base/unit.hpp"

#include <gtest/gtest.h>

namespace loopwalk::base {
namespace {

/// `value` of one unit in another.
double in(double value, const char* from, const char* to) {
    const Unit* a = find_unit(from);
    const Unit* b = find_unit(to);
    EXPECT_TRUE(a != nullptr && b != nullptr) << from << " " << to;
    return a == nullptr || b == nullptr ? -1.0 : converted(value, *a, *b);
}

// Factors: NIST Special Publication 811 (2008), appendix B.8.
TEST(Unit, ConvertsAsPublished) {
    EXPECT_DOUBLE_EQ(in(1.0, "ft", "m"), 0.3048);
    EXPECT_DOUBLE_EQ(in(1.0, "yd", "m"), 0.9144);
    EXPECT_DOUBLE_EQ(in(1.0, "in", "mm"), 25.4);
    EXPECT_DOUBLE_EQ(in(1.0, "mile", "km"), 1.609344);
    EXPECT_DOUBLE_EQ(in(1.0, "square inch", "mm2"), 645.16);
    EXPECT_DOUBLE_EQ(in(0.0225, "sq in", "mm2"), 14.5161);
    EXPECT_DOUBLE_EQ(in(212.0, "F", "C"), 100.0);
    EXPECT_DOUBLE_EQ(in(293.15, "K", "C"), 20.0);
    EXPECT_DOUBLE_EQ(in(2.5, "kW", "W"), 2500.0);
    EXPECT_DOUBLE_EQ(in(350.0, "mohm", "ohm"), 0.35);
    EXPECT_DOUBLE_EQ(in(16000.0, "A", "kA"), 16.0);
    EXPECT_DOUBLE_EQ(in(0.03, "A", "mA"), 30.0);
    EXPECT_DOUBLE_EQ(in(400.0, "mV", "V"), 0.4);
    EXPECT_DOUBLE_EQ(in(0.00308, "ohm/m", "ohm per km"), 3.08);
    EXPECT_DOUBLE_EQ(in(0.9, "ratio", "%"), 90.0);
}

TEST(Unit, IsFoundByItsNames) {
    EXPECT_EQ(find_unit(" FEET ")->name, "ft");
    EXPECT_EQ(find_unit("sq. in")->name, "sq in");
    EXPECT_EQ(find_unit("mm^2")->name, "mm2");
    EXPECT_EQ(find_unit("mm²")->name, "mm2");
    EXPECT_EQ(find_unit("Ω")->name, "ohm");
    EXPECT_EQ(find_unit("Amps")->name, "A");
    EXPECT_EQ(find_unit("KW")->name, "kW");
    for (const char* none : {"", " ", "furlong", "mmm", "kg", "2", "m2"}) {
        EXPECT_EQ(find_unit(none), nullptr) << none;
    }
}

TEST(Unit, MilliIsNotMega) {
    EXPECT_EQ(find_unit("mA")->name, "mA");
    EXPECT_EQ(find_unit("MA"), nullptr);
    EXPECT_EQ(find_unit("MV"), nullptr);
    EXPECT_EQ(find_unit("MOHM"), nullptr);
    EXPECT_EQ(find_unit("MM")->name, "mm"); // nobody draws in megametres
}

TEST(Unit, StandsAtTheEndOfAFieldsName) {
    EXPECT_EQ(unit_of_field("length_m")->name, "m");
    EXPECT_EQ(unit_of_field("fuse_breaking_ka")->name, "kA");
    EXPECT_EQ(unit_of_field("rcd_ma")->name, "mA");
    EXPECT_EQ(unit_of_field("transformer_z_pct")->name, "%");
    EXPECT_EQ(unit_of_field("conductor_c")->name, "C");
    EXPECT_EQ(unit_of_field("power_factor")->name, "ratio");
    EXPECT_EQ(unit_of_field("phases"), nullptr);
    EXPECT_EQ(unit_of_field("column_id"), nullptr);
}

// 7/.036 is sold as 0.007 sq in, 7/.029 as 0.0045, 3/.029 as 0.002, 19/.044 as 0.03 (nominal, by
// the rounded area of the wires: n * pi/4 * d^2).
TEST(Unit, StrandSizesAreAreas) {
    EXPECT_NEAR(*strand_area_mm2("7/.036"), 0.007125 * 645.16, 0.01);
    EXPECT_NEAR(*strand_area_mm2("7/0.029"), 0.004624 * 645.16, 0.01);
    EXPECT_NEAR(*strand_area_mm2(" 3/.029 "), 0.001981 * 645.16, 0.01);
    EXPECT_NEAR(*strand_area_mm2("19/.044"), 0.02889 * 645.16, 0.01);
    for (const char* none : {"7", "7/", "/.036", "7.5/.036", "0/.036", "3/4", "1/2/3", "a/.036"}) {
        EXPECT_FALSE(strand_area_mm2(none)) << none;
    }
}

} // namespace
} // namespace loopwalk::base
