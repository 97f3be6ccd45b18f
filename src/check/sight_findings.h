// Sightlines compared with their rules: what a designer is told about each target.
#pragma once

#include "check/sight_target.h"
#include "check/sightlines.h"

namespace standpoint {

// What is said about a target to be seen, from its sights by every visitor.
std::vector<Finding> see_findings(const Staging& staging, const SightTarget& target,
                                  const std::vector<Station>& stations,
                                  const std::vector<const TargetSights*>& by_visitor,
                                  const std::vector<Rule>& rules);

// What is said about a target that must stay hidden.
Finding hide_finding(const Staging& staging, const SightTarget& target,
                     const HideExposure& exposure);

} // namespace standpoint
