// The plan of a piece: the true outline of everything it covers, seen from above.
#pragma once

#include <vector>

#include <glm/vec2.hpp>

#include "shape/staging.h"

namespace standpoint {

struct PlanShape {                              // scene mm
    std::vector<std::vector<glm::dvec2>> rings; // outsides and holes, closed, for even-odd filling
    double area = 0;                            // mm2
};

// The union of the projected triangles, exact within 0.1 mm. Empty when the piece covers nothing
// (a sheet on edge).
PlanShape plan_shape(const StagedPiece& piece);

bool covers(const PlanShape& shape, const glm::dvec2& point);                // even-odd
double distance_to_outline(const PlanShape& shape, const glm::dvec2& point); // mm; infinite: none

// How far along the ray from `from` (direction of unit length) the outline is last crossed; 0 when
// it is not.
double last_crossing(const PlanShape& shape, const glm::dvec2& from, const glm::dvec2& direction);

struct Spot {
    glm::dvec2 place{0.0};
    double room = 0; // distance to the nearest outline, mm; 0 where the piece is wholly covered
};
// Where the piece shows most freely: inside it, beneath none of the shapes drawn above it.
Spot clear_spot(const PlanShape& shape, const std::vector<const PlanShape*>& above, const Box& box);

} // namespace standpoint
