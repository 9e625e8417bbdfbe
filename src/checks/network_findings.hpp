// The checks, after all columns and sections have been summed up: each says what it found and reads
// nothing that another one wrote. review.cpp lists them.
#pragma once

#include "finding_builder.hpp"

namespace loopwalk::checks {

/// second-supply, live-end and loose-end.
void report_ends(const CheckContext& context);
/// three-phase-in-column, feed-differs and owner-differs.
void report_feeding(const CheckContext& context);
/// no-earth-path.
void report_earth_paths(const CheckContext& context);
/// main-fuse-only.
void report_main_fuses(const CheckContext& context);
/// sockets-without-rcd.
void report_sockets(const CheckContext& context);
/// slow-way, thin-margin, volt-drop, way-load-over.
void report_ways(const CheckContext& context);
/// overload and breaking-capacity of ways, section pillars' ways, joints and cut-outs fed through.
void report_devices(const CheckContext& context);
/// ring.
void report_rings(const CheckContext& context);
/// earth-path-heat and conductor-heat.
void report_heat(const CheckContext& context);
/// cable-unprotected.
void report_ratings(const CheckContext& context);
/// no-discrimination.
void report_discrimination(const CheckContext& context);
/// no-rcd, earths-joined and ev-on-pme.
void report_earthing(const CheckContext& context);
/// fuse-larger-than-upstream.
void report_series(const CheckContext& context);
/// reading-over-record and reading-not-used.
void report_readings(const CheckContext& context);
/// electrode-high.
void report_electrodes(const CheckContext& context);
/// neutral-earth-exposure and earth-exposure.
void report_losses(const CheckContext& context);
/// pen-in-installation and circuit-differs of cables.
void report_cables(const CheckContext& context);
/// earths-within-reach.
void report_earths(const CheckContext& context);

} // namespace loopwalk::checks
