// A target made ready for looking at: its samples, its outline and the limits it must meet.
#pragma once

#include <cstdint>
#include <vector>

#include <glm/vec3.hpp>

#include "base/result.h"
#include "check/rules.h"
#include "check/sightlines.h"
#include "shape/staging.h"
#include "shape/surface.h"

namespace standpoint {

struct SightTarget {
    const Target* target = nullptr; // of the staging's document
    std::uint32_t piece = 0;        // index into Staging::pieces
    // Replicates one after the other, each as long as most_per_replicate. Any first part of each is
    // an even sample by itself.
    std::vector<SurfaceSample> samples;
    SightOptions options;
    std::vector<glm::dvec3> outline;    // outermost points of the patch, scene mm
    glm::dvec3 centre{0.0};             // of the patch's area
    std::vector<std::uint8_t> in_patch; // one a triangle of the piece's mesh
    Box patch_box;                      // piece's axes, original's lengths; empty: no box
    bool has_facing = false;
    glm::dvec3 facing{0.0}; // unit, scene axes
    double facing_limit = 180;
    double detail_mm = 0; // built; 0: none stated
    Rule facing_rule, seen_rule, detail_rule, size_rule;
};

// Limits of the target itself stand in for those of the rules. Errors (input): the patch.
Result<SightTarget> prepare_target(const Staging& staging, const Target& target,
                                   std::uint32_t piece, const std::vector<Rule>& rules,
                                   const SightOptions& options);

// True when a crossing of the target's own piece at this place is a crossing of the patch itself.
bool of_patch(const Staging& staging, const SightTarget& target, std::uint32_t triangle,
              const glm::dvec3& place);

// Degrees between the two outermost points of the patch as the eye sees them.
double angle_across(const SightTarget& target, const glm::dvec3& eye);

// Arcmin that the smallest detail takes up at the middle of the patch; 0 when none is stated.
double detail_arcmin(const SightTarget& target, const glm::dvec3& eye);

// Degrees between the visitor's line of sight and the middle of the patch, up or down: above is
// positive. How far below level people look is a rule of its own, standing and seated.
double angle_off_cone(const SightTarget& target, const Visitor& visitor, const glm::dvec3& eye,
                      const std::vector<Rule>& rules);

bool within_facing(const SightTarget& target, const glm::dvec3& eye);

} // namespace standpoint
