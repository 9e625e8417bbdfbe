// Devices in series. Ratios 1.6 and 2 as method.md section 9 has them; I2t of gG links from the
// discrimination table of IEC 60269-2: 16 A passes 1,210 A2s in all, 25 A melts at 1,210 at the
// earliest.
#include "loopwalk/protection/discrimination.hpp"

#include <gtest/gtest.h>

namespace loopwalk::protection {
namespace {

using base::Ampere;
using base::Number;

const catalogue::FuseType& type_named(const char* name) {
    static const auto built_in = catalogue::parse_catalogue(catalogue::built_in_text());
    return built_in.fuse(built_in.find_fuse(name).value());
}

const catalogue::FuseType& kGg = type_named("gG");
const catalogue::FuseType& kBs88 = type_named("BS 88-2"); // gG too, its total I2t is not known
const catalogue::FuseType& kBs3036 = type_named("BS 3036");
const catalogue::FuseType& kBreaker = type_named("MCB B");

const config::Rules kRules; // 1.6 and 2

Discrimination of(const catalogue::FuseType& lower, double lower_a,
                  const catalogue::FuseType& upper, double upper_a) {
    return discrimination(DeviceChoices{{device_choice(lower, Ampere(lower_a))}},
                          DeviceChoices{{device_choice(upper, Ampere(upper_a))}}, kRules);
}

TEST(DiscriminationByRating, OfOneStandard) {
    EXPECT_EQ(of(kBs88, 10, kBs88, 16).verdict, Discriminates::yes);
    EXPECT_EQ(of(kBs88, 32, kBs88, 50).verdict, Discriminates::yes); // 1.5625, two steps
    EXPECT_EQ(of(kBs88, 20, kBs88, 25).verdict, Discriminates::no);
    EXPECT_EQ(of(kBs3036, 15, kBs3036, 30).verdict, Discriminates::yes);
    EXPECT_EQ(of(kBs3036, 20, kBs3036, 30).verdict, Discriminates::no);
    EXPECT_DOUBLE_EQ(of(kBs3036, 20, kBs3036, 30).needed, 2.0);
}

TEST(DiscriminationByRating, OfTwoStandardsOrABreakerIsUndecided) {
    EXPECT_EQ(of(kBs3036, 5, kBs88, 100).verdict, Discriminates::undecided);
    EXPECT_EQ(of(kBreaker, 6, kBreaker, 63).verdict, Discriminates::undecided);
}

TEST(DiscriminationByRating, TakesTheRatiosOfTheRules) {
    config::Rules rules;
    rules.discrimination_gg_ratio = 1.2;
    rules.discrimination_other_ratio = 1.5;
    const auto of_rules = [&](const catalogue::FuseType& type, double below, double above) {
        return discrimination(DeviceChoices{{device_choice(type, Ampere(below))}},
                              DeviceChoices{{device_choice(type, Ampere(above))}}, rules)
            .verdict;
    };
    EXPECT_EQ(of_rules(kBs88, 20, 25), Discriminates::yes);
    EXPECT_EQ(of_rules(kBs3036, 20, 30), Discriminates::yes);
    EXPECT_EQ(of_rules(kBs3036, 15, 20), Discriminates::no);
}

TEST(DiscriminationByI2t, DecidesAlsoBetweenStandards) {
    DeviceChoice lower = device_choice(kBs3036, Ampere(15));
    DeviceChoice upper = device_choice(kGg, Ampere(25));
    EXPECT_FALSE(lower.total_i2t.has_value());
    lower.total_i2t = Number(1210);
    upper.prearcing_i2t = Number(1210);
    const auto equal = discrimination(DeviceChoices{{lower}}, DeviceChoices{{upper}}, kRules);
    EXPECT_EQ(equal.verdict, Discriminates::yes);
    EXPECT_TRUE(equal.by_i2t);
    lower.total_i2t = Number(1211);
    EXPECT_EQ(discrimination(DeviceChoices{{lower}}, DeviceChoices{{upper}}, kRules).verdict,
              Discriminates::no);
}

TEST(Discrimination, OfSeveralDevicesMustHoldForAll) {
    const DeviceChoices upper{{device_choice(kBs88, Ampere(16))}};
    const DeviceChoices both{{device_choice(kBs88, Ampere(10)), device_choice(kBs88, Ampere(12))}};
    EXPECT_EQ(discrimination(both, upper, kRules).verdict, Discriminates::undecided);
    EXPECT_NEAR(discrimination(both, upper, kRules).ratio, 16.0 / 12.0, 1e-12);
    EXPECT_EQ(discrimination({}, upper, kRules).verdict, Discriminates::undecided);
}

double factor(const catalogue::FuseType& type, double rating) {
    const auto factor = device_choice(type, Ampere(rating)).overload_factor;
    EXPECT_TRUE(factor.is_exact()) << type.name;
    return factor.low.value();
}

/// BS 7671 regs 433.1.1, 433.1.202 and 433.1.203; IEC 60269-1: small gG links 1.9 and 2.1 times.
TEST(OverloadFactor, ByStandardAndRating) {
    EXPECT_DOUBLE_EQ(factor(kBs3036, 30), 0.725);
    EXPECT_DOUBLE_EQ(factor(kBreaker, 16), 1.0);
    EXPECT_DOUBLE_EQ(factor(kGg, 16), 1.0);
    EXPECT_NEAR(factor(kGg, 10), 1.45 / 1.9, 5e-4);
    EXPECT_NEAR(factor(kGg, 4), 1.45 / 2.1, 5e-4);
    EXPECT_NEAR(factor(type_named("BS 1362"), 13), 1.45 / 1.9, 5e-4);
}

TEST(OverloadFactor, OfARatingThatIsNotListedIsThatOfItsNeighbours) {
    const auto between = device_choice(kGg, Ampere(5)).overload_factor; // 4 and 6 A
    EXPECT_NEAR(between.low.value(), 1.45 / 2.1, 5e-4);
    EXPECT_NEAR(between.high.value(), 1.45 / 1.9, 5e-4);
    EXPECT_DOUBLE_EQ(factor(kBs3036, 200), 0.725);
    EXPECT_EQ(device_choice({}, Ampere(5)).overload_factor, catalogue::kUnknownOverloadFactor);
}

} // namespace
} // namespace loopwalk::protection
