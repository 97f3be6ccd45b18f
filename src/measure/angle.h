// Angles in degrees, with quarter turns exact.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"

namespace standpoint {

struct Angle {
    double deg = 0;
    std::string as_read; // as Length::as_read

    Angle() = default;
    Angle(double degrees) : deg(degrees) {}
    friend bool operator==(const Angle& a, const Angle& b) { return a.deg == b.deg; }
};

// Accepts `90`, `-12.5 deg`, `90°`. |angle| <= 36000.
Result<double> parse_angle_deg(std::string_view text);

struct SinCos {
    double sin = 0;
    double cos = 1;
};
SinCos sin_cos_deg(double deg); // exact -1, 0, 1 at multiples of 90
double to_radians(double deg);
double to_degrees(double rad);
double atan2_deg(double y, double x); // (-180, 180]; exact on the axes; 0 for (0, 0)
double normalise_facing(double deg);  // into [0, 360)

// "90°" or "12.5°", rounded once to `step_deg`.
std::string print_angle(double deg, double step_deg = 0.5);

// The same for a facing: 359.9 is printed "0°", not "360°".
std::string print_facing(double deg, double step_deg = 0.5);

} // namespace standpoint
