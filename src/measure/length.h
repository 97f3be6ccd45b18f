// Lengths: parsed from either system, kept in double millimetres, printed rounded once.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"

namespace standpoint {

inline constexpr double mm_per_inch = 25.4;  // exact; NIST SP 811 (2008) App. B
inline constexpr double mm_per_foot = 304.8; // exact

// Lengths beyond this are a slip of the pen: no scene is 10 km across.
inline constexpr double largest_length_mm = 1e7;

struct Length {
    double mm = 0;
    std::string as_read; // the JSON token it came from (1600 or "5' 3\""), empty when computed

    Length() = default;
    Length(double millimetres) : mm(millimetres) {}
    friend bool operator==(const Length& a, const Length& b) { return a.mm == b.mm; }
};

// Lengths beyond this are not printed: a programmer error.
inline constexpr double largest_printed_mm = 1e12;

// Accepts `1600`, `1600 mm`, `160 cm`, `1.6 m`, `5' 3"`, `5 ft 3 1/2 in`, `5'-3 1/2"`, `63.5"`,
// `63 1/2 in`, `-2 in`, and the prime signs U+2032 and U+2033; a bare number is millimetres, but
// inches after feet. After feet, inches stay below 12. Spaces are free; decimal point only.
// Error message: "found "…", expected a length such as 1600, 1.6 m or 5' 3"". NaN, infinities and
// anything beyond largest_length_mm are refused.
Result<double> parse_length_mm(std::string_view text);

enum class UnitSystem { metric, imperial };

struct LengthStyle {
    UnitSystem system = UnitSystem::metric;
    double metric_step_mm = 1; // rounding step when metric, > 0
    int inch_denominator = 16; // 1, 2, 4, 8, 16, 32 or 64 when imperial
    bool with_unit = true;     // metric: " mm"; imperial always carries ' and "
};

// The nearest multiple of the step, halves away from zero. Never rounds twice.
double round_to_step(double mm, const LengthStyle& style);

// "1600 mm", "1600", "5' 3 1/2\"", "-0' 2\"" is printed "-2\"". Negative zero prints as zero.
std::string print_length(double mm, const LengthStyle& style);

// Shortest text that reads back as exactly the same double, for JSON: 1600, 0.1, 1e-07. Without
// an exponent from 1e-6 to 1e15; negative zero is written 0. `number` is finite.
std::string print_exact(double number);

} // namespace standpoint
