// Widths of the way compared with their rules.
#pragma once

#include "check/walk_measure.h"

namespace standpoint {

// What narrows the way only because it hangs too low is to be raised, not moved: `headroom` tells.
void find_narrow_places(const Staging& staging, const std::vector<Rule>& rules,
                        const WalkMeasure& measure, const std::vector<HeadroomAt>& headroom,
                        std::vector<Finding>& findings);

// How far off its place a piece lands: the scene's own tolerance, else the rule's.
double placing_tolerance(const Staging& staging, const std::vector<Rule>& rules);

// A length that must be gained, rounded up to the scene's step, so that it is enough.
std::string at_least_text(const Document& document, double mm);

} // namespace standpoint
