// Who looks: the built-in visitors, each with its source. Values copied from published tables.
#pragma once

#include <vector>

#include "scene/document.h"

namespace standpoint {

// child-4, child-9, small-woman (5th percentile), tall-man (95th), wheelchair. Standing ones wear
// shoes: a stated allowance is in eye height and crown.
std::vector<Visitor> built_in_visitors();

// The scene that `new` writes: empty_document with the built-in visitors and the usual rules.
Document starting_document();

// Stature for age by the LMS method: X = M * (1 + L*S*z)^(1/L), or M * exp(S*z) when L is 0.
double lms_value(double l, double m, double s, double z);
double lms_z(double l, double m, double s, double x);

} // namespace standpoint
