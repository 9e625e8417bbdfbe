// What is judged of one column: both sides of its cut-out, breaking capacity, heat, volt drop.
#pragma once

#include "loopwalk/base/id.hpp"
#include "loopwalk/base/quantity.hpp"
#include "loopwalk/model/layers.hpp"
#include "loopwalk/protection/verdict.hpp"

#include <optional>

namespace loopwalk::protection {

/// Conductor of a cable by what it is for.
enum class Core : std::uint8_t { line, neutral, earth_path };

/// One conductor of one section against the heat of a fault that it carries.
struct HeatCheck {
    Verdict verdict = Verdict::none;    ///< of this conductor
    Reason reason = Reason::none;       ///< why it is not simply met
    Core core{};                        ///< which one
    base::SectionId section;            ///< the heated one
    bool is_largest = false;            ///< at the largest current; else at the smallest
    base::AmpereSquaredSecond passed;   ///< I2t let through, high bound (low bound where it fails)
    base::AmpereSquaredSecond survived; ///< k^2 S^2, low bound (high bound where it fails)
    /// I2t over k^2 S^2: above 1 where it fails; infinite where nothing bounds it.
    [[nodiscard]] double ratio() const noexcept { return passed / survived; }
};

/// A fault on one side of a cut-out, judged.
struct Side {
    base::DeviceId device;                 ///< of the network; invalid with own_fuse set or nothing
    bool own_fuse = false;                 ///< the column's own cut-out fuse
    bool is_beyond = false;                ///< a fault beyond the cut-out, not before it
    bool is_multi_fed = false;             ///< several devices open one after the other
    base::Maybe<base::Ohm> unsteady_above; ///< the electrode is above this: it may not stay
    bool is_rcd = false;                   ///< judged by a residual current device, not by its loop
    std::uint32_t load_row = 0xffffffffU;  ///< row of `loads` whose fuse decides; else the column's
    ClearState state = ClearState::not_computed; ///< whether a time is known
    /// upper bound of the time, absent unless it clears; the limit it is held against
    base::Maybe<base::Second> clear, limit;
    /// loop impedance, hot, with the tail where it is beyond; absent where nothing bounds it
    base::Maybe<base::Ohm> zs_low, zs_high;
    base::Maybe<base::Ohm> zs_limit;  ///< Cmin*U0/Ia
    base::Maybe<base::Number> margin; ///< zs_limit over zs_high; below 1: not met at the high bound
    Verdict verdict = Verdict::none;  ///< with readings
    Reason reason = Reason::none;     ///< why it is not simply met
    Verdict predicted = Verdict::none;      ///< verdict and reason before readings were looked at
    Reason predicted_reason = Reason::none; ///< likewise
    base::Maybe<base::Number> predicted_margin; ///< likewise
    bool is_reading_over = false;               ///< a reading breaks the limit of this side
    base::Maybe<base::Ohm> zs_by_reading;       ///< the largest that a reading stands for, warmed
    /// The larger of prediction and reading.
    [[nodiscard]] base::Maybe<base::Ohm> zs_worst() const {
        return zs_high.has_value() && zs_by_reading.has_value() && *zs_by_reading > *zs_high
                   ? zs_by_reading
                   : zs_high;
    }
};

/// A column judged: what `columns` of the result says of it.
struct Judgement {
    base::Maybe<base::Ohm> zs_low, zs_high; ///< at the column, without its tail
    base::Maybe<base::Ampere> ief_min;      ///< smallest earth-fault current there
    Side in, out;                     ///< of its cut-out: the incoming side, and beyond the fuse
    Verdict breaking = Verdict::none; ///< whether its fuses can break the largest current
    Reason breaking_reason = Reason::none; ///< why that is not simply met
    base::Maybe<base::Number> breaking_ka; ///< of the weakest possible cut-out fuse
    Verdict heat = Verdict::none;          ///< of the earth path, for a fault at the column
    HeatCheck heat_check;                  ///< the worst behind it
    Verdict vdrop = Verdict::none;         ///< never part of `overall`
    Verdict overall = Verdict::none;       ///< worst of disconnection, breaking and heat
    /// ratings of the incoming device's type: largest that clears, smallest that carries the load
    base::Maybe<base::Ampere> fuse_max, fuse_min;
    std::optional<model::Basis> basis; ///< weakest source value behind the verdict
};

} // namespace loopwalk::protection
