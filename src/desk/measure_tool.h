// Measuring between two points of the scene: what the points snap to, and what is said.
#pragma once

#include <optional>
#include <string>

#include "shape/ray_index.h"
#include "shape/staging.h"

namespace standpoint {

struct MeasurePoint {
    glm::dvec3 at{0.0}; // scene mm
    std::string what;   // "corner of Tea stall", "R1", "left heel of Ferryman"; empty: a free point
};
// The point meant by a line of sight: the reference point, mark, corner or edge middle that passes
// within `tolerance_mm` of it and is not hidden, nearest to the line, equally near ones in that
// order and then the one in front; else the surface it meets, else the hall floor. Nothing: it
// meets none of them. A piece's own marks show through it. Corners are where sharp edges (30
// degrees and more) end; of a piece that the line only passes by they count up to 2 000 triangles,
// and one of more than 50 000 offers the corners of the triangle that is met.
std::optional<MeasurePoint> measure_point(const Staging& staging, const RayIndex& index,
                                          const Segment& line, double tolerance_mm);

struct Measured {
    double straight = 0, along_x = 0, along_y = 0, height = 0; // mm; straight >= 0, rest signed
    double in_plan = 0;                                        // mm, >= 0
    double facing_deg = 0; // from the first to the second in plan, as a piece's facing
    std::string text;      // "2450 mm straight, 2400 mm along X, 500 mm along Y, 0 mm up"
};
Measured measured(const glm::dvec3& from, const glm::dvec3& to, const LengthStyle& style);

} // namespace standpoint
