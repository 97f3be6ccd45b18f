// Rounding to steps: the one place where a printed number is rounded.
#pragma once

#include <string>

namespace standpoint {

// The nearest whole number, halves away from zero. A half that binary cannot hold, such as 0.35 to
// a step of 0.1, is taken for the half that was written.
double nearest_whole(double x);

// How many steps `value` is, rounded; `step` > 0. Steps such as 0.1 or 0.5 count as 1/10 and 1/2.
double steps_of(double value, double step);
double from_steps(double steps, double step);

// `steps * step` with as many decimals as the step needs; never "-0".
std::string print_steps(double steps, double step);

} // namespace standpoint
