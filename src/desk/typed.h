// What a person types into a field: lengths, angles and ratios, plain or worked out from the value
// that is there.
//
// The rule, the same in every field:
//   "+50" adds, "- 50" (a minus and a space) or "+-50" takes away, "*1.1" multiplies, "/2" divides.
//   Anything else is the new value; "-50" with the minus close by is the value minus fifty, so that
//   a negative number can be put right digit by digit.
// Values that are worked out carry no text and are rounded: lengths to 0.0001 mm, angles to
// 0.0001 degrees, ratios not at all.
#pragma once

#include <string_view>

#include "base/result.h"
#include "measure/angle.h"
#include "measure/length.h"
#include "measure/ratio.h"
#include "scene/form.h"

namespace standpoint {

// Every unit and way of writing of parse_length_mm. A bare number is millimetres where the scene is
// metric and inches where it is imperial. A plain value keeps its text as a scene file writes it.
// Errors (input): no length, or beyond largest_length_mm.
Result<Length> typed_length(std::string_view text, const Length& now, UnitSystem units);
Result<Angle> typed_angle(std::string_view text, const Angle& now);

// As a scene file writes it ("12:1", "12", "1:2": built over original), "125 %" (1.25:1), and from
// one scale to another: "1:24 to 1:6" is 4:1. Errors (input): no ratio, or outside 0.001 to 10000.
Result<Ratio> typed_ratio(std::string_view text, const Ratio& now);

// A place in plan, "x, y", each as typed_length takes it. Errors (input): not two lengths.
Result<PlanPoint> typed_point(std::string_view text, const PlanPoint& now, UnitSystem units);

// A share such as lets_through: "0.25" or "25 %"; 0 to 1.
Result<Number> typed_share(std::string_view text, const Number& now);

// A whole number such as 12. Errors (input): anything else, or outside least to most.
Result<int> typed_count(std::string_view text, int least, int most);

// "#a0b1c2", with or without the sign, in small letters as a scene file has it; nothing typed
// stays "". Errors (input): anything else.
Result<std::string> typed_colour(std::string_view text);

} // namespace standpoint
