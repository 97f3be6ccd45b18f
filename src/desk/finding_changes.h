// Findings before and after an edit, matched and told apart.
#pragma once

#include <vector>

#include "desk/changes.h"

namespace standpoint {

std::vector<FindingChange> compare_findings(const CheckOutcome& before, const CheckOutcome& after);

// How a change counts: notes that come, go or change count as neither.
Trend trend_of_finding(const CheckOutcome& before, const CheckOutcome& after,
                       const FindingChange& change);

} // namespace standpoint
