// A supply as a source, where its record is half complete.
#include "loopwalk/impedance/source.hpp"

#include <gtest/gtest.h>

namespace loopwalk::impedance {
namespace {

using base::Number;

model::Supply three_phase_pillar() {
    model::Supply supply;
    supply.earthing = model::Earthing::tn_c_s;
    supply.phases = Number(3.0);
    return supply;
}

// Nothing but a percentage says nothing: the conventional 16 kA of one phase bounds the current
// (IET On-Site Guide; ENA EREC P25), of which a phase of a three-phase fault meets half the
// impedance, 1.1 * 230 / 16,000 / 2 ohm.
TEST(Source, PercentageWithoutARatingIsNoTransformer) {
    model::Supply supply = three_phase_pillar();
    supply.transformer_z_pct = Number(4.5);
    const Source source = source_of(supply, {}, {});
    EXPECT_TRUE(source.pscc_missing);
    EXPECT_NEAR(source.strongest.value(), 1.1 * 230.0 / 16000.0, 1e-12);
    EXPECT_NEAR(source.strongest_phase.value(), 1.1 * 230.0 / 16000.0 / 2.0, 1e-12);
}

// IEC 60909-0:2016, 6.3.1: 4.5 % of 3 * 230^2 / 500,000 ohm, the same in one phase and in three.
TEST(Source, TransformerIsOneImpedanceAPhase) {
    model::Supply supply = three_phase_pillar();
    supply.transformer_z_pct = Number(4.5);
    supply.transformer_kva = Number(500.0);
    const Source source = source_of(supply, {}, {});
    EXPECT_FALSE(source.pscc_missing);
    EXPECT_NEAR(source.strongest.value(), 0.045 * 3.0 * 230.0 * 230.0 / 500000.0, 1e-12);
    EXPECT_EQ(source.strongest_phase, source.strongest);
}

TEST(InSeries, WhatIsMissingIsNotMadeUnknown) {
    for (const Presence other : {Presence::yes, Presence::no, Presence::unknown}) {
        EXPECT_EQ(in_series(Presence::no, other), Presence::no);
        EXPECT_EQ(in_series(other, Presence::no), Presence::no);
    }
    EXPECT_EQ(in_series(Presence::yes, Presence::unknown), Presence::unknown);
    EXPECT_EQ(in_series(Presence::yes, Presence::yes), Presence::yes);
}

} // namespace
} // namespace loopwalk::impedance
