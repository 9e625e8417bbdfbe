#include "far_end.hpp"

#include <algorithm>

namespace loopwalk::figures {

using impedance::Complex;
using impedance::Conductors;
using impedance::EarthPathState;
using impedance::loop_impedance;
using impedance::Presence;
using impedance::smallest_loop;

namespace {

using base::Ampere;
using base::Maybe;

struct Bound {
    Maybe<Ampere> earth, neutral, any;
};

/// The ambiguity about a loop that is still taken to be one.
struct Ambiguity {
    EarthPathState earth;
    Presence neutral;
};

Bound at_bound(const Path& path, const Conductors& z, const Source& source, ThreePhase phases,
               double cmax, Ambiguity admitted) {
    Bound bound;
    const auto fault = [&](base::Ohm m, Complex loop) {
        const Ampere current = source.u0 * cmax / smallest_loop(m, loop);
        bound.any = std::max(bound.any.value_or(current), current);
        return current;
    };
    if (path.earth <= admitted.earth && !source.is_tt) {
        bound.earth = fault(source.strongest, z.line + z.earth);
    }
    if (path.neutral == Presence::yes || path.neutral == admitted.neutral) {
        bound.neutral = fault(source.strongest, z.line + z.neutral);
    }
    if (phases == ThreePhase::yes) {
        fault(source.strongest_phase, z.line);
    }
    return bound;
}

} // namespace

LargestCurrents largest_currents(const Path& path, const Source& source, ThreePhase phases,
                                 double cmax) {
    const Bound high = at_bound(path, path.z.cold_low, source, phases, cmax,
                                {EarthPathState::unknown, Presence::unknown});
    const Bound low = at_bound(path, path.z.cold_high, source, phases, cmax,
                               {EarthPathState::intact, Presence::yes});
    return {low.earth, high.earth, low.neutral, high.neutral, low.any, high.any};
}

void fill_for_heat(SectionFigures& section, const Path& path, const Source& source,
                   ThreePhase phases, double cmax) {
    section.largest = largest_currents(path, source, phases, cmax);
    section.line_low = base::Ohm(std::abs(path.z.hot_low.line));
    section.line_high = base::Ohm(std::abs(path.z.hot_high.line));
    section.weakest_line = path.line.at;
    section.weakest_neutral = path.neutral_core.at;
    section.weakest_earth = path.earth_path.at;
    // The loop of line and neutral is no larger than that of line and earth before the terminals,
    // so the recorded Ze bounds it; a TT source's Ze holds an electrode and says nothing about it.
    if (!source.has_ze || source.is_tt || path.neutral == Presence::no) {
        return;
    }
    section.zn_low =
        loop_impedance(source, source.ze.low, path.z.hot_low.line + path.z.hot_low.neutral);
    if (path.neutral == Presence::yes) {
        section.zn_high =
            loop_impedance(source, source.ze.high, path.z.hot_high.line + path.z.hot_high.neutral);
    }
}

} // namespace loopwalk::figures
