// Rounding to steps.
#include "measure/steps.h"

#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "base/check.h"

namespace standpoint {

namespace {

// A step of 0.1 is meant as ten to the unit, which binary holds exactly; 0 when it is not a whole
// part of the unit.
double steps_per_unit(double step) {
    const double per_unit = std::round(1 / step);
    return per_unit >= 1 && std::abs(per_unit * step - 1) < 1e-12 ? per_unit : 0;
}

} // namespace

double nearest_whole(double x) {
    constexpr double slack = 4 * std::numeric_limits<double>::epsilon();
    const double size = std::abs(x);
    const double below = std::floor(size);
    const double rounded = size - below >= 0.5 - slack * (size + 1) ? below + 1 : below;
    return std::copysign(rounded, x);
}

double steps_of(double value, double step) {
    STANDPOINT_CHECK(std::isfinite(value) && step > 0);
    const double per_unit = steps_per_unit(step);
    return nearest_whole(per_unit > 0 ? value * per_unit : value / step) + 0.0;
}

double from_steps(double steps, double step) {
    const double per_unit = steps_per_unit(step);
    return per_unit > 0 ? steps / per_unit : steps * step;
}

std::string print_steps(double steps, double step) {
    constexpr int most_decimals = 9;
    int decimals = 0;
    double scaled = step;
    while (decimals < most_decimals && std::abs(scaled - std::round(scaled)) > 1e-9 * scaled) {
        scaled *= 10;
        ++decimals;
    }
    return fmt::format("{:.{}f}", from_steps(steps, step) + 0.0, decimals);
}

} // namespace standpoint
