// The plan of a piece: the true outline of everything it covers, seen from above.
#pragma once

#include <vector>

#include <glm/vec2.hpp>

#include "shape/staging.h"

namespace standpoint {

struct PlanShape {                              // scene mm
    std::vector<std::vector<glm::dvec2>> rings; // outsides and holes, closed, for even-odd filling
    double area = 0;                            // mm2
    glm::dvec2 anchor{0.0};                     // a point inside, for a label
};

// The union of the projected triangles, exact within 0.1 mm. Empty when the piece covers nothing
// (a sheet on edge).
PlanShape plan_shape(const StagedPiece& piece);

} // namespace standpoint
