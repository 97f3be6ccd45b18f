// Headroom: the lowest thing overhead on the floor that people reach.
#pragma once

#include "check/walk_measure.h"

namespace standpoint {

std::vector<HeadroomAt> headroom_over(const Staging& staging, const WalkMeasure& measure,
                                      const std::vector<Station>& stations);

void find_low_places(const Staging& staging, const std::vector<Rule>& rules,
                     const std::vector<HeadroomAt>& headroom, std::vector<Finding>& findings);

} // namespace standpoint
