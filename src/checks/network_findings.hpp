// Findings about ways, devices and cables, after all columns have been judged.
#pragma once

#include "loopwalk/checks/review.hpp"

namespace loopwalk::checks {

/// slow-way, thin-margin, volt-drop, way-load-over.
void report_ways(const ReviewInput& input, const Review& review, base::FindingSink& findings);
/// overload and breaking-capacity of ways, section pillars' ways, joints and cut-outs fed through.
void report_devices(const ReviewInput& input, const Review& review, Judge& judge,
                    base::FindingSink& findings);
/// ring.
void report_rings(const ReviewInput& input, Judge& judge, base::FindingSink& findings);
/// earth-path-heat and conductor-heat.
void report_heat(const ReviewInput& input, Judge& judge, base::FindingSink& findings);
/// cable-unprotected.
void report_ratings(const ReviewInput& input, Judge& judge, base::FindingSink& findings);
/// no-discrimination.
void report_discrimination(const ReviewInput& input, Judge& judge, base::FindingSink& findings);
/// no-rcd, earths-joined and ev-on-pme.
void report_earthing(const ReviewInput& input, Judge& judge, base::FindingSink& findings);
/// neutral-earth-exposure and earth-exposure.
void report_losses(const ReviewInput& input, Judge& judge, base::FindingSink& findings);
/// pen-in-installation and circuit-differs of cables.
void report_cables(const ReviewInput& input, base::FindingSink& findings);
/// earths-within-reach.
void report_earths(const ReviewInput& input, base::FindingSink& findings);

} // namespace loopwalk::checks
