// Devices in series. Ratios 1.6 and 2 as method.md section 9 has them; I2t of gG links from the
// discrimination table of IEC 60269-2: 16 A passes 1,210 A2s in all, 25 A melts at 1,210 at the
// earliest.
#include "loopwalk/protection/discrimination.hpp"

#include <gtest/gtest.h>

namespace loopwalk::protection {
namespace {

using base::Ampere;
using base::Number;

catalogue::FuseType type_named(const char* name) {
    catalogue::FuseType type;
    type.name = name;
    type.is_breaker = std::string_view(name).starts_with("MCB");
    return type;
}

const catalogue::FuseType kGg = type_named("gG");
const catalogue::FuseType kBs3036 = type_named("BS 3036");
const catalogue::FuseType kBreaker = type_named("MCB B");

Discrimination of(const catalogue::FuseType& lower, double lower_a,
                  const catalogue::FuseType& upper, double upper_a) {
    return discrimination(DeviceChoices{{device_choice(lower, Ampere(lower_a))}},
                          DeviceChoices{{device_choice(upper, Ampere(upper_a))}});
}

TEST(DiscriminationByRating, OfOneStandard) {
    EXPECT_EQ(of(kGg, 10, kGg, 16).verdict, Discriminates::yes);
    EXPECT_EQ(of(kGg, 32, kGg, 50).verdict, Discriminates::yes); // 1.5625, two steps
    EXPECT_EQ(of(kGg, 20, kGg, 25).verdict, Discriminates::no);
    EXPECT_EQ(of(kBs3036, 15, kBs3036, 30).verdict, Discriminates::yes);
    EXPECT_EQ(of(kBs3036, 20, kBs3036, 30).verdict, Discriminates::no);
    EXPECT_DOUBLE_EQ(of(kBs3036, 20, kBs3036, 30).needed, 2.0);
}

TEST(DiscriminationByRating, OfTwoStandardsOrABreakerIsUndecided) {
    EXPECT_EQ(of(kBs3036, 5, kGg, 100).verdict, Discriminates::undecided);
    EXPECT_EQ(of(kBreaker, 6, kBreaker, 63).verdict, Discriminates::undecided);
}

TEST(DiscriminationByI2t, DecidesAlsoBetweenStandards) {
    DeviceChoice lower = device_choice(kBs3036, Ampere(15));
    DeviceChoice upper = device_choice(kGg, Ampere(25));
    lower.total_i2t = Number(1210);
    upper.prearcing_i2t = Number(1210);
    const auto equal = discrimination(DeviceChoices{{lower}}, DeviceChoices{{upper}});
    EXPECT_EQ(equal.verdict, Discriminates::yes);
    EXPECT_TRUE(equal.by_i2t);
    lower.total_i2t = Number(1211);
    EXPECT_EQ(discrimination(DeviceChoices{{lower}}, DeviceChoices{{upper}}).verdict,
              Discriminates::no);
}

TEST(Discrimination, OfSeveralDevicesMustHoldForAll) {
    const DeviceChoices upper{{device_choice(kGg, Ampere(16))}};
    const DeviceChoices both{{device_choice(kGg, Ampere(10)), device_choice(kGg, Ampere(12))}};
    EXPECT_EQ(discrimination(both, upper).verdict, Discriminates::undecided);
    EXPECT_NEAR(discrimination(both, upper).ratio, 16.0 / 12.0, 1e-12);
    EXPECT_EQ(discrimination({}, upper).verdict, Discriminates::undecided);
}

/// BS 7671 regs 433.1.1, 433.1.202 and 433.1.203; IEC 60269-1: small gG links 1.9 and 2.1 times.
TEST(OverloadFactor, ByStandardAndRating) {
    EXPECT_DOUBLE_EQ(overload_factor(device_choice(kBs3036, Ampere(30))), 0.725);
    EXPECT_DOUBLE_EQ(overload_factor(device_choice(kBreaker, Ampere(16))), 1.0);
    EXPECT_DOUBLE_EQ(overload_factor(device_choice(kGg, Ampere(16))), 1.0);
    EXPECT_DOUBLE_EQ(overload_factor(device_choice(kGg, Ampere(10))), 1.45 / 1.9);
    EXPECT_DOUBLE_EQ(overload_factor(device_choice(kGg, Ampere(4))), 1.45 / 2.1);
}

} // namespace
} // namespace loopwalk::protection
