// How far pieces reach over the base's edge, and over join lines into other sections.
#pragma once

#include <optional>
#include <vector>

#include "check/standing_support.h"

namespace standpoint {

// The corner farthest in plan from all sections; nothing when all are within.
std::optional<Reach> reach_outside(const StandingScene& scene, std::size_t piece);

// One for each other section that the piece lies over, in plan: how far beyond its own section's
// rectangle it goes within the other.
std::vector<Reach> reaches_across(const StandingScene& scene, std::size_t piece);

} // namespace standpoint
