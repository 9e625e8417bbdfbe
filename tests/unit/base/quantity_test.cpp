#include "loopwalk/base/id.hpp"
#include "loopwalk/base/quantity.hpp"

#include <gtest/gtest.h>

#include <type_traits>

namespace loopwalk::base {
namespace {

template <class A, class B>
concept can_add = requires(A a, B b) {
    a + b;
};
template <class A, class B>
concept can_multiply = requires(A a, B b) {
    a* b;
};
template <class A, class B>
concept can_divide = requires(A a, B b) {
    a / b;
};
template <class A, class B>
concept can_compare = requires(A a, B b) {
    a < b;
};

// What is physically true compiles ...
static_assert(can_add<Ohm, Ohm> && can_multiply<Ohm, double> && can_multiply<double, Ohm>);
static_assert(std::is_same_v<decltype(OhmPerKm{} * Metre{}), Ohm>);
static_assert(std::is_same_v<decltype(Volt{} / Ohm{}), Ampere>);
static_assert(std::is_same_v<decltype(Volt{} / Ampere{}), Ohm>);
static_assert(std::is_same_v<decltype(Metre{} / Metre{}), double>);
// ... and nothing else.
static_assert(!can_add<Ohm, OhmPerKm> && !can_add<Ohm, double> && !can_add<Volt, Ampere>);
static_assert(!can_multiply<Ohm, Ohm> && !can_multiply<Ohm, Metre> && !can_multiply<Volt, Ampere>);
static_assert(!can_divide<Ohm, Volt> && !can_divide<double, Ohm>);
static_assert(!can_compare<Ohm, Volt> && !can_compare<Ohm, double>);
static_assert(!std::is_convertible_v<double, Ohm> && !std::is_convertible_v<Ohm, double>);
static_assert(!std::is_convertible_v<Ohm, Volt>);

// Ids of different kinds do not mix and do not count.
static_assert(!std::is_convertible_v<NodeId, SectionId> && !std::is_convertible_v<int, NodeId>);
static_assert(!can_add<NodeId, NodeId> && !can_compare<NodeId, SectionId>);

TEST(Quantity, ResistanceOfALength) {
    // 250 m of 3.08 ohm/km: 0.25 * 3.08 = 0.77 ohm.
    EXPECT_NEAR((OhmPerKm(3.08) * Metre(250.0)).value(), 0.77, 1e-12);
}

TEST(Quantity, OhmsLaw) {
    EXPECT_NEAR((Volt(218.5) / Ohm(0.46)).value(), 475.0, 1e-12); // 475 * 0.46 = 218.5
    EXPECT_NEAR((Volt(230.0) / Ampere(113.0)).value(), 2.0354, 5e-5);
}

TEST(Quantity, ZeroByDefaultAndOrdered) {
    EXPECT_EQ(Ohm{}.value(), 0.0);
    EXPECT_LT(Ohm(1.0), Ohm(2.0));
    Metre sum(1.5);
    sum += Metre(2.0);
    EXPECT_EQ(sum, Metre(3.5));
    EXPECT_EQ(2.0 * Metre(1.5) - Metre(1.0), Metre(2.0));
}

TEST(Maybe, AbsentIsNotZero) {
    const Maybe<Ohm> absent;
    const Maybe<Ohm> zero = Ohm(0.0);
    EXPECT_FALSE(absent.has_value());
    EXPECT_TRUE(zero.has_value());
    EXPECT_FALSE(absent == zero);
    EXPECT_TRUE(absent == Maybe<Ohm>());
    EXPECT_EQ(absent.value_or(Ohm(0.8)), Ohm(0.8));
    EXPECT_EQ(zero.value_or(Ohm(0.8)), Ohm(0.0));
}

TEST(Bounds, AddUpEndByEnd) {
    Bounds<Ohm> sum = Bounds<Ohm>::exactly(Ohm(0.35));
    EXPECT_TRUE(sum.is_exact());
    sum += {Ohm(0.1), Ohm(0.3)};
    EXPECT_NEAR(sum.low.value(), 0.45, 1e-12);
    EXPECT_NEAR(sum.high.value(), 0.65, 1e-12);
    EXPECT_FALSE(sum.is_exact());
}

TEST(Id, DefaultIsInvalid) {
    EXPECT_FALSE(NodeId().is_valid());
    EXPECT_TRUE(NodeId(0).is_valid());
    EXPECT_LT(NodeId(0), NodeId(1));
}

} // namespace
} // namespace loopwalk::base
